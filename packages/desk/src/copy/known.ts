/**
 * What a folder holds already, by content. Sizes are compared first, then the beginnings, then hashes; the hashes of
 * what was copied are noted in a file in the folder, so that going on after a stop does not read everything again.
 */
import { createHash } from 'node:crypto';
import { join, relative, sep } from 'node:path';
import type { CardFile } from './card.ts';
import type { Disk, DiskFile } from './disk.ts';

/** In the folder copied to: one line of JSON a file. It may be deleted; then files are read again to be known. */
export const NOTES_FILE = '.tepal-copied.jsonl';

interface Note {
  readonly file: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  readonly hash: string;
}

export interface KnownContent {
  /** @returns the path of a file with the same content, wherever it lies in the folder; null where there is none */
  find(source: CardFile, hashOfSource: () => Promise<string>): Promise<string | null>;
  /** Notes a file that has just been copied and read back. */
  add(path: string, hash: string): Promise<void>;
}

const START_BYTES = 64 * 1024;
const DEEPEST = 24;

export async function readKnown(disk: Disk, folder: string): Promise<KnownContent> {
  const bySize = new Map<number, { path: string; about: DiskFile }[]>();
  const put = (path: string, about: DiskFile) => {
    const same = bySize.get(about.bytes);
    if (same === undefined) bySize.set(about.bytes, [{ path, about }]);
    else same.push({ path, about });
  };
  const visit = async (inner: string, depth: number): Promise<void> => {
    for (const { name, is } of await disk.list(inner)) {
      if (name.startsWith('.')) continue;
      const path = join(inner, name);
      if (is === 'folder' && depth < DEEPEST) await visit(path, depth + 1);
      const about = is === 'file' ? await disk.fileAt(path) : null;
      if (about !== null) put(path, about);
    }
  };
  await visit(folder, 0);
  const notes = await readNotes(disk, folder);
  const nameOf = (path: string) => relative(folder, path).split(sep).join('/');
  const note = (path: string, about: DiskFile, hash: string) => {
    const line: Note = { file: nameOf(path), ...about, hash };
    notes.set(line.file, line);
    // A line that a stop has torn ends before this one begins.
    return disk.append(join(folder, NOTES_FILE), `\n${JSON.stringify(line)}`).catch(() => undefined);
  };
  const hashAt = async (path: string, about: DiskFile): Promise<string> => {
    const noted = notes.get(nameOf(path));
    if (noted?.bytes === about.bytes && noted.modifiedMs === about.modifiedMs) return noted.hash;
    const hash = await hashFile(disk, path);
    await note(path, about, hash);
    return hash;
  };
  return {
    async find(source, hashOfSource) {
      for (const { path, about } of bySize.get(source.bytes) ?? []) {
        if (!(await sameStart(disk, source.path, path))) continue;
        if ((await hashAt(path, about)) === (await hashOfSource())) return path;
      }
      return null;
    },
    async add(path, hash) {
      const about = await disk.fileAt(path);
      if (about === null) return;
      put(path, about);
      await note(path, about, hash);
    },
  };
}

async function readNotes(disk: Disk, folder: string): Promise<Map<string, Note>> {
  const notes = new Map<string, Note>();
  const path = join(folder, NOTES_FILE);
  if ((await disk.fileAt(path)) === null) return notes;
  const parts: Buffer[] = [];
  await eachChunk(disk, path, (chunk) => void parts.push(Buffer.from(chunk)));
  for (const line of Buffer.concat(parts).toString('utf8').split('\n')) {
    const found = noteOf(line);
    if (found !== null) notes.set(found.file, found);
  }
  return notes;
}

function noteOf(line: string): Note | null {
  try {
    const { file, bytes, modifiedMs, hash } = JSON.parse(line) as Partial<Record<keyof Note, unknown>>;
    const whole = typeof bytes === 'number' && typeof modifiedMs === 'number';
    return whole && typeof file === 'string' && typeof hash === 'string'
      ? { file, bytes, modifiedMs, hash }
      : null;
  } catch {
    return null;
  }
}

async function sameStart(disk: Disk, a: string, b: string): Promise<boolean> {
  const [startA, startB] = [await startOf(disk, a, START_BYTES), await startOf(disk, b, START_BYTES)];
  return startA.equals(startB);
}

/** The first bytes of a file. */
export async function startOf(disk: Disk, path: string, bytes: number): Promise<Buffer> {
  const into = Buffer.alloc(bytes);
  const reading = await disk.read(path);
  try {
    let at = 0;
    while (at < bytes) {
      const count = await reading.read(into.subarray(at));
      if (count === 0) break;
      at += count;
    }
    return into.subarray(0, at);
  } finally {
    await reading.close();
  }
}

const CHUNK_BYTES = 1024 * 1024;

/** Reads a file to its end, chunk by chunk; a chunk is valid until the next. @returns how many bytes there were */
export async function eachChunk(
  disk: Disk,
  path: string,
  use: (chunk: Uint8Array) => Promise<void> | void,
): Promise<number> {
  const into = Buffer.allocUnsafe(CHUNK_BYTES);
  const reading = await disk.read(path);
  let total = 0;
  try {
    for (;;) {
      const count = await reading.read(into);
      if (count === 0) return total;
      total += count;
      await use(into.subarray(0, count));
    }
  } finally {
    await reading.close();
  }
}

/** @returns "sha256:" and 64 hex digits of a file's content */
export async function hashFile(disk: Disk, path: string): Promise<string> {
  const hash = createHash('sha256');
  await eachChunk(disk, path, (chunk) => void hash.update(chunk));
  return `sha256:${hash.digest('hex')}`;
}
