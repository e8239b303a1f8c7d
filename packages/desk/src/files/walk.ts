/** The photographs of a folder and of the folders below it. */
import { readdir, realpath, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { DeskFault, reasonOf, type FileFault } from './faults.ts';
import { kindOfFile, type PhotographKind } from './kinds.ts';

export interface FoundPhotograph {
  readonly path: string;
  /** Relative to the folder walked, with forward slashes. */
  readonly file: string;
  readonly kind: PhotographKind;
  readonly bytes: number;
}

export interface Walk {
  readonly photographs: readonly FoundPhotograph[];
  /** Files named like photographs that are none, and folders below that could not be read. */
  readonly faults: readonly FileFault[];
}

const DEEPEST = 24;

/**
 * Every photograph under a folder, by name. Hidden files and folders are passed over; a folder reached twice through
 * links is walked once.
 *
 * @throws DeskFault with status 3 when the folder itself cannot be read
 */
export async function walkPhotographs(folder: string): Promise<Walk> {
  const photographs: FoundPhotograph[] = [];
  const faults: FileFault[] = [];
  const seen = new Set<string>();
  const relativeName = (path: string) => relative(folder, path).split(sep).join('/');

  const visit = async (path: string, depth: number): Promise<void> => {
    const real = await realpath(path);
    if (seen.has(real)) return;
    seen.add(real);
    const entries = await readdir(path);
    for (const name of entries.sort(byName)) {
      if (name.startsWith('.')) continue;
      const inner = join(path, name);
      try {
        const found = await stat(inner);
        if (found.isDirectory()) {
          if (depth < DEEPEST) await visit(inner, depth + 1);
        } else if (found.isFile()) {
          const kind = await kindOfFile(inner);
          if (kind.is === 'photograph') {
            photographs.push({
              path: inner,
              file: relativeName(inner),
              kind: kind.kind,
              bytes: found.size,
            });
          } else if (kind.is === 'wrong') faults.push({ path: relativeName(inner), reason: kind.reason });
        }
      } catch (error) {
        faults.push({ path: relativeName(inner), reason: `It cannot be read: ${reasonOf(error)}.` });
      }
    }
  };

  try {
    await visit(folder, 0);
  } catch (error) {
    throw new DeskFault(`The folder ${folder} cannot be read: ${reasonOf(error)}.`, 3);
  }
  return { photographs, faults };
}

/** Numbers in names count as numbers, so that IMG_9 comes before IMG_10. */
const order = new Intl.Collator('en', { numeric: true, sensitivity: 'variant' });
const byName = (a: string, b: string) => order.compare(a, b);
