/** A check of the library against the disk: what is missing, what changed, what belongs to nothing any more. */
import { readFile, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { contentHash } from '../files/hash.ts';
import { exists } from '../files/write.ts';
import type { Library } from '../library/library.ts';

export interface LibraryCheck {
  readonly frames: number;
  /** Frames whose file is not where it was measured. */
  readonly missing: readonly string[];
  /** Frames whose file has another size or time than when it was measured; with `deep`, another content. */
  readonly changed: readonly string[];
  /** Decisions, points and pictures without their frame or file, and temporary files left behind. */
  readonly orphaned: readonly string[];
}

/** @param options.deep reads every file and compares its content, which takes as long as copying them */
export async function checkLibrary(
  library: Library,
  options: { readonly deep: boolean },
): Promise<LibraryCheck> {
  const missing: string[] = [];
  const changed: string[] = [];
  const orphaned: string[] = [];
  const ids = new Set(
    library.folders().flatMap(({ path }) => library.measuring(path).frames.map(({ id }) => id)),
  );
  for (const id of ids) {
    const frame = library.frame(id);
    if (frame === null) {
      missing.push(`${id}: measured, but no longer known to the library.`);
      continue;
    }
    const found = await stat(frame.path).catch(() => null);
    if (found === null) missing.push(frame.path);
    else if (options.deep) {
      const content = contentHash(await readFile(frame.path));
      if (content !== id.replace(/~\d+$/, '')) changed.push(`${frame.path}: its content is another.`);
    } else if (found.size !== frame.bytes)
      changed.push(`${frame.path}: ${found.size} bytes, not ${frame.bytes}.`);
    else if (Math.abs(found.mtimeMs - frame.modifiedMs) > 2000) changed.push(`${frame.path}: written since.`);
  }
  for (const [id] of library.decisions()) {
    if (library.frame(id) === null) orphaned.push(`${id}: a decision on a frame that is not in the library.`);
  }
  for (const [id] of library.points()) {
    if (library.frame(id) === null)
      orphaned.push(`${id}: a marked point in a frame that is not in the library.`);
  }
  for (const { title, path } of library.pictures()) {
    if (!(await exists(path))) orphaned.push(`${path}: the picture "${title}" is not there.`);
  }
  const left = (await readdir(library.folder)).filter((name) => name.startsWith('.tepal-'));
  orphaned.push(
    ...left.map((name) => `${join(library.folder, name)}: left behind by a write that was cut off.`),
  );
  return { frames: ids.size, missing, changed, orphaned };
}
