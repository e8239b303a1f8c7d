/** The raw or untouched original of a picture: as said, as its list says, or by its name; and copied as proof. */
import type { DoneDocument } from '@tepal/formats';
import { constants } from 'node:fs';
import { copyFile, mkdir, readdir, readFile, unlink } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { contentHash } from '../files/hash.ts';
import { kindByName } from '../files/kinds.ts';
import { exists, settle, temporaryName } from '../files/write.ts';

export interface FoundOriginal {
  readonly path: string;
  readonly hash: string;
  /** By what it was taken for the original. */
  readonly by: 'said' | 'list' | 'itself' | 'name';
}

/**
 * Looks for the original beside the picture and in further folders.
 *
 * A file that the list names counts only with the same content. A raw is its own original. By name alone only a raw is
 * taken, since a JPEG of the same name may be the finished picture itself.
 *
 * @throws DeskFault where the file that was said cannot be read
 */
export async function findOriginal(search: {
  readonly picture: string;
  readonly given: string | null;
  readonly list: DoneDocument | null;
  readonly folders: readonly string[];
}): Promise<FoundOriginal | null> {
  const { picture, given, list, folders } = search;
  const read = async (path: string) => contentHash(await readFile(path));
  if (given !== null) {
    try {
      return { path: given, hash: await read(given), by: 'said' };
    } catch (error) {
      throw new DeskFault(`The original ${given} cannot be read: ${reasonOf(error)}.`, 3);
    }
  }
  const places = [dirname(picture), ...folders];
  if (list?.original) {
    for (const place of places) {
      const path = join(place, list.original.file);
      if ((await exists(path)) && (await read(path)) === list.original.hash) {
        return { path, hash: list.original.hash, by: 'list' };
      }
    }
  }
  if (kindByName(picture) === 'raw') return { path: picture, hash: await read(picture), by: 'itself' };
  const wanted = basename(picture, extname(picture)).toLowerCase();
  for (const place of places) {
    for (const name of await readdir(place).catch(() => [] as string[])) {
      const same = basename(name, extname(name)).toLowerCase() === wanted;
      if (same && kindByName(name) === 'raw') {
        const path = join(place, name);
        return { path, hash: await read(path), by: 'name' };
      }
    }
  }
  return null;
}

/** A copy under another name, whole or not at all, and compared afterwards. */
export async function copyWhole(from: string, to: string): Promise<string> {
  await mkdir(dirname(to), { recursive: true });
  const temporary = temporaryName(to);
  try {
    await copyFile(from, temporary, constants.COPYFILE_EXCL);
    if (contentHash(await readFile(temporary)) !== contentHash(await readFile(from))) {
      throw new DeskFault(`${to} is not the same as ${from} after copying; try again.`, 3);
    }
    await settle(temporary, to, { replace: true });
    return to;
  } catch (error) {
    throw error instanceof DeskFault
      ? error
      : new DeskFault(`${to} could not be written: ${reasonOf(error)}.`, 3);
  } finally {
    await unlink(temporary).catch(() => undefined);
  }
}
