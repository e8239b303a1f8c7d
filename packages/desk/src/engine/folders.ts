/** The folder chooser: which folders there are, and how many photographs lie in them. */
import type { FolderListing } from '@tepal/formats';
import { readdir } from 'node:fs/promises';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join, normalize } from 'node:path';
import { reasonOf } from '../files/faults.ts';
import { kindByName } from '../files/kinds.ts';
import { exists } from '../files/write.ts';
import { EngineRefusal } from './guard.ts';

/** Photographs below are counted down to this depth, and up to so many folders, so that a listing comes at once. */
const COUNTED_DEPTH = 3;
const COUNTED_FOLDERS = 400;

/** @throws EngineRefusal when the folder cannot be read */
export async function listFolder(path: string | undefined): Promise<FolderListing> {
  const folder = path === undefined || path === '' ? homedir() : normalize(path);
  if (!isAbsolute(folder))
    throw new EngineRefusal(400, `A whole path is needed, but ${folder} is a part of one.`);
  let entries;
  try {
    entries = await readdir(folder, { withFileTypes: true });
  } catch (error) {
    throw new EngineRefusal(404, `The folder ${folder} cannot be read: ${reasonOf(error)}.`);
  }
  const folders = entries
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    .map((entry) => ({ name: entry.name, path: join(folder, entry.name) }))
    .sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }));
  const photographsHere = entries.filter((entry) => isPhotograph(entry)).length;
  const parent = dirname(folder);
  return {
    path: folder,
    parent: parent === folder ? null : parent,
    folders,
    photographsHere,
    photographsBelow: photographsHere + (await countBelow(folders.map((inner) => inner.path))),
    places: await usualPlaces(),
  };
}

interface Entry {
  readonly name: string;
  isFile(): boolean;
}

const isPhotograph = (entry: Entry) =>
  entry.isFile() && !entry.name.startsWith('.') && kindByName(entry.name) !== null;

async function countBelow(start: readonly string[]): Promise<number> {
  let count = 0;
  let level = [...start];
  let left = COUNTED_FOLDERS;
  for (let depth = 1; depth <= COUNTED_DEPTH && level.length > 0 && left > 0; depth += 1) {
    const next: string[] = [];
    for (const path of level.slice(0, left)) {
      left -= 1;
      const entries = await readdir(path, { withFileTypes: true }).catch(() => []);
      for (const entry of entries) {
        if (isPhotograph(entry)) count += 1;
        else if (entry.isDirectory() && !entry.name.startsWith('.')) next.push(join(path, entry.name));
      }
    }
    level = next;
  }
  return count;
}

/** Where photographs usually are: the home folder, Pictures, and mounted cards. */
async function usualPlaces(): Promise<FolderListing['places']> {
  const home = homedir();
  const fixed = [
    { name: 'Home', path: home },
    { name: 'Pictures', path: join(home, 'Pictures') },
    { name: 'Desktop', path: join(home, 'Desktop') },
  ];
  const mounts = await Promise.all(
    [
      '/Volumes',
      '/media',
      `/media/${process.env['USER'] ?? ''}`,
      `/run/media/${process.env['USER'] ?? ''}`,
    ].map(async (at) => {
      const entries = await readdir(at, { withFileTypes: true }).catch(() => []);
      return entries
        .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
        .map((entry) => ({ name: entry.name, path: join(at, entry.name) }));
    }),
  );
  const there = await Promise.all(fixed.map(async (place) => ((await exists(place.path)) ? [place] : [])));
  return [...there, ...mounts].flat();
}
