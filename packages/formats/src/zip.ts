/** Zip archives read with care: no name that leads outside, nothing that unfolds without end. */
import { unzipSync, zipSync } from 'fflate';
import { refused, told, understood, type Result } from './result.ts';
import { kindOfBytes } from './text.ts';

const MAX_FILES = 1000;
const MAX_BYTES = 256 * 1024 * 1024;

/**
 * The files of a zip archive by name. Folders and the companion files that some systems add are left out; one folder
 * that holds everything is taken off the names.
 *
 * @returns refused when it is no zip, is damaged, holds a name that leads outside, or unfolds to over 256 MiB
 */
export function readZip(bytes: Uint8Array): Result<ReadonlyMap<string, Uint8Array>> {
  const where = 'archive';
  const kind = kindOfBytes(bytes);
  if (kind !== 'a zip archive') return refused({ where, found: kind, accepted: 'a zip archive' });
  let count = 0;
  let total = 0;
  let outside: string | null = null;
  try {
    const files = unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (leadsOutside(name)) outside = name;
        if (name.endsWith('/') || /(^|\/)(__MACOSX\/|\.)/.test(name)) return false;
        count += 1;
        total += originalSize;
        return outside === null && count <= MAX_FILES && total <= MAX_BYTES;
      },
    });
    if (outside !== null) {
      return refused({ where, found: told(outside), accepted: 'names that stay inside the archive' });
    }
    if (count > MAX_FILES || total > MAX_BYTES) {
      const found = `${count} files of ${total} bytes when unfolded`;
      return refused({ where, found, accepted: `at most ${MAX_FILES} files and ${MAX_BYTES} bytes` });
    }
    return understood(withoutRoot(new Map(Object.entries(files))));
  } catch {
    return refused({ where, found: 'a damaged zip archive', accepted: 'a whole one' });
  }
}

function leadsOutside(name: string): boolean {
  return /^([/\\]|[a-z]:)/i.test(name) || name.split(/[/\\]/).includes('..') || name.includes('\0');
}

function withoutRoot(files: ReadonlyMap<string, Uint8Array>): ReadonlyMap<string, Uint8Array> {
  const names = [...files.keys()];
  const root = /^[^/]+\//.exec(names[0] ?? '')?.[0];
  if (root === undefined || !names.every((name) => name.startsWith(root))) return files;
  return new Map([...files].map(([name, bytes]) => [name.slice(root.length), bytes]));
}

/**
 * A zip archive.
 *
 * @param files by name, folders with forward slashes
 * @param timeMs of every entry [ms since 1970], from 1980 on
 */
export function writeZip(
  files: Readonly<Record<string, Uint8Array>>,
  timeMs: number,
): Uint8Array<ArrayBuffer> {
  return new Uint8Array(zipSync({ ...files }, { mtime: timeMs }));
}
