/**
 * A backup: one zip of open formats. The notebook whole with its history, and every kind of thing in it as JSON for any
 * program; what was chosen in the library as CSV; a list of all files with their SHA-256. Photographs are not in it,
 * and what can be measured again is not either.
 */
import { writeZip } from '@tepal/formats';
import { list, KEPT_KINDS, saveNotebook, type Notebook } from '@tepal/notebook';
import { createHash } from 'node:crypto';
import type { Library } from '../library/library.ts';
import { bytesOfText, writeTable } from './tables.ts';

export interface BackupFile {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

export interface Manifest {
  readonly schema: 'tepal/backup/1';
  readonly madeAt: string;
  readonly files: readonly BackupFile[];
}

const README = `A backup of Tepal.

notebook.automerge   the notebook with its whole history (an Automerge document)
notebook/*.json      the same, one file a kind, for reading with anything
library/*.csv, .json what was chosen among the photographs: decisions, marked points, names, ratings, moves, pictures
manifest.json        every file with its size and SHA-256

It holds the exact places of everything that was noted. Photographs are not in it.
Put it back with: tepal restore FILE --library FOLDER
`;

/** The backup's bytes. @param notebook stays usable */
export function backupOf(
  notebook: Notebook,
  library: Library,
  nowMs: number,
): { readonly bytes: Uint8Array; readonly manifest: Manifest } {
  const json = (value: unknown): Uint8Array => bytesOfText(`${JSON.stringify(value, null, 2)}\n`);
  const folders = library.folders();
  const files: Record<string, Uint8Array> = {
    'README.txt': bytesOfText(README),
    'notebook.automerge': saveNotebook(notebook),
    ...Object.fromEntries(KEPT_KINDS.map((kind) => [`notebook/${kind}.json`, json(list(notebook, kind))])),
    'library/decisions.csv': writeTable(
      ['frame', 'decision', 'path'],
      [...library.decisions()].map(([id, decision]) => [id, decision, library.frame(id)?.path ?? '']),
    ),
    'library/points.csv': writeTable(
      ['frame', 'x', 'y'],
      [...library.points()].map(([id, { x, y }]) => [id, String(x), String(y)]),
    ),
    'library/names.csv': writeTable(
      ['folder', 'series', 'name'],
      folders.flatMap(({ path }) => [...library.names(path)].map(([series, name]) => [path, series, name])),
    ),
    'library/ratings.csv': writeTable(
      ['frame', 'rating'],
      [...library.writtenRatings()].map(([id, rating]) => [id, String(rating)]),
    ),
    'library/moves.csv': writeTable(
      ['frame', 'from', 'to', 'isFrame'],
      library.moves().map(({ frameId, from, to, isFrame }) => [frameId, from, to, String(isFrame)]),
    ),
    'library/pictures.json': json(library.pictures()),
    'library/folders.json': json(folders),
  };
  const manifest: Manifest = {
    schema: 'tepal/backup/1',
    madeAt: new Date(nowMs).toISOString(),
    files: Object.entries(files).map(([name, bytes]) => ({
      name,
      bytes: bytes.length,
      sha256: sha256(bytes),
    })),
  };
  return { bytes: writeZip({ ...files, 'manifest.json': json(manifest) }, nowMs), manifest };
}

export function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
