/** Under which base name a picture and all that belongs to it goes into a folder. */
import { basename, dirname, join } from 'node:path';
import type { CardFile } from './card.ts';
import type { Disk } from './disk.ts';
import { letterOf, sameNameKey } from './naming.ts';

/** The names of one folder copied to: those there, and those given out in this run. */
export interface Places {
  /**
   * A base path that nothing in its folder has yet.
   *
   * @param levels folders and, last, base name
   */
  free(levels: readonly string[]): Promise<string>;
  /** A path that no file has yet, near the wanted one: for a companion whose own name is taken by another content. */
  freePath(base: string, ending: string): Promise<string>;
}

const MOST_TURNS = 100_000;

export function openPlaces(disk: Disk, folder: string): Places {
  const namesIn = new Map<string, string[]>();
  const given = new Set<string>();
  const namesOf = async (inner: string): Promise<string[]> => {
    const known = namesIn.get(inner);
    if (known !== undefined) return known;
    const entries = await disk.list(inner).catch(() => []);
    const names = entries.map(({ name }) => sameNameKey(name));
    namesIn.set(inner, names);
    return names;
  };
  return {
    async free(levels) {
      const wanted = join(folder, ...levels);
      const names = await namesOf(dirname(wanted));
      for (let turn = 0; turn < MOST_TURNS; turn += 1) {
        const base = `${wanted}${letterOf(turn)}`;
        const key = sameNameKey(base);
        const start = `${sameNameKey(basename(base))}.`;
        if (given.has(key) || names.some((name) => name.startsWith(start))) continue;
        given.add(key);
        return base;
      }
      throw new Error(`no free name is left beside ${wanted}`);
    },
    async freePath(base, ending) {
      for (let turn = 0; turn < MOST_TURNS; turn += 1) {
        const path = `${base}${letterOf(turn)}${ending}`;
        const key = sameNameKey(path);
        if (!given.has(key) && (await disk.fileAt(path)) === null) {
          given.add(key);
          return path;
        }
      }
      throw new Error(`no free name is left beside ${base}${ending}`);
    },
  };
}

/** The base that a file stands under, told by the ending that it has on the card; null when it has another there. */
export function baseOfKnown(path: string, file: CardFile): string | null {
  const ends = path.toLowerCase().endsWith(file.ending.toLowerCase());
  return ends ? path.slice(0, path.length - file.ending.length) : null;
}
