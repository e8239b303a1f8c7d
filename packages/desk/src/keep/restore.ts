/** A backup put back. What is there already is never overwritten: the notebook is merged, choices fill gaps only. */
import { readZip, type Decision, type Picture } from '@tepal/formats';
import { openNotebook, type Notebook } from '@tepal/notebook';
import { DeskFault } from '../files/faults.ts';
import type { Library, StoredPicture } from '../library/library.ts';
import { sha256, type Manifest } from './backup.ts';
import { readTable } from './tables.ts';

export interface Backup {
  readonly madeAt: string;
  readonly notebook: Notebook;
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/**
 * A backup read and checked whole, before anything is put back.
 *
 * @throws DeskFault with a sentence where it is no backup, or a file in it is missing or damaged
 */
export function readBackup(bytes: Uint8Array, name: string): Backup {
  const zip = readZip(bytes);
  if (!zip.ok) throw new DeskFault(`${name}: ${zip.fault.message}`, 3);
  const files = zip.value;
  const manifest = manifestOf(files.get('manifest.json'));
  if (manifest === null)
    throw new DeskFault(`${name} is a zip, but no backup of Tepal: it has no manifest.`, 3);
  for (const { name: file, sha256: expected } of manifest.files) {
    const found = files.get(file);
    if (found === undefined) throw new DeskFault(`${name}: ${file} is missing from the backup.`, 3);
    if (sha256(found) !== expected) throw new DeskFault(`${name}: ${file} is damaged.`, 3);
  }
  const opened = openNotebook(files.get('notebook.automerge') ?? new Uint8Array());
  if (!opened.ok) throw new DeskFault(`${name}: ${opened.fault.message}`, 3);
  return { madeAt: manifest.madeAt, notebook: opened.value, files };
}

function manifestOf(bytes: Uint8Array | undefined): Manifest | null {
  if (bytes === undefined) return null;
  try {
    const json = JSON.parse(new TextDecoder().decode(bytes)) as Partial<Manifest>;
    return json.schema === 'tepal/backup/1' && Array.isArray(json.files) ? (json as Manifest) : null;
  } catch {
    return null;
  }
}

/** How much of each was put back, and how much was left since the library has its own. */
export interface Restored {
  readonly [what: string]: { readonly putBack: number; readonly kept: number };
}

/** Choices of a backup into a library, where it has none of its own. */
export function restoreChoices(backup: Backup, library: Library): Restored {
  const table = (name: string) => readTable(text(backup, `library/${name}.csv`));
  const counts: Record<string, { putBack: number; kept: number }> = {};
  const each = <Row>(
    what: string,
    rows: readonly Row[],
    has: (row: Row) => boolean,
    put: (row: Row) => void,
  ): void => {
    const count = { putBack: 0, kept: 0 };
    for (const row of rows) {
      if (has(row)) count.kept += 1;
      else {
        put(row);
        count.putBack += 1;
      }
    }
    counts[what] = count;
  };
  const [decisions, points, ratings] = [library.decisions(), library.points(), library.writtenRatings()];
  each(
    'decisions',
    table('decisions').filter((row): row is typeof row & { decision: Decision } =>
      isDecision(row['decision']),
    ),
    (row) => decisions.has(row['frame'] ?? ''),
    (row) => library.decide(row['frame'] ?? '', row.decision),
  );
  each(
    'points',
    table('points'),
    (row) => points.has(row['frame'] ?? ''),
    (row) => library.setPoint(row['frame'] ?? '', { x: Number(row['x']), y: Number(row['y']) }),
  );
  each(
    'names',
    table('names'),
    (row) => library.names(row['folder'] ?? '').has(row['series'] ?? ''),
    (row) => library.setName(row['folder'] ?? '', row['series'] ?? '', row['name'] ?? ''),
  );
  each(
    'ratings',
    table('ratings'),
    (row) => ratings.has(row['frame'] ?? ''),
    (row) => library.noteRating(row['frame'] ?? '', Number(row['rating'])),
  );
  const moves = new Set(library.moves().map(({ to }) => to));
  each(
    'moves',
    table('moves'),
    (row) => moves.has(row['to'] ?? ''),
    (row) =>
      library.noteMove({
        ...{ frameId: row['frame'] ?? '', from: row['from'] ?? '', to: row['to'] ?? '' },
        isFrame: row['isFrame'] === 'true',
      }),
  );
  const pictures = new Set(library.pictures().map(({ id }) => id));
  each(
    'pictures',
    JSON.parse(text(backup, 'library/pictures.json') || '[]') as (Picture & StoredPicture)[],
    ({ id }) => pictures.has(id),
    (picture) => library.putPicture(picture),
  );
  return counts;
}

function text({ files }: Backup, name: string): string {
  return new TextDecoder().decode(files.get(name) ?? new Uint8Array());
}

function isDecision(text: string | undefined): text is Decision {
  return text === 'keep' || text === 'maybe' || text === 'out';
}
