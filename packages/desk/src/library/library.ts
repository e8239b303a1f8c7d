/** The library of frames and measures: SQLite in a folder of its own. Originals are only pointed at. */
import type { BlendGap, MeasuredFrame, MeasuredSeries, Picture } from '@tepal/formats';
import Database from 'libsql';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FrameFacts } from '../decode/describe.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { choicesOn, type Choices } from './choices.ts';
import { ownSeriesOn, type OwnSeries } from './own-series.ts';
import { queriesOn } from './queries.ts';
import { migrate } from './schema.ts';

export interface StoredFrame {
  readonly id: string;
  readonly path: string;
  readonly kind: PhotographKind;
  readonly bytes: number;
  readonly modifiedMs: number;
  readonly facts: FrameFacts;
  /** Where the point of focus was guessed to be, fractions of width and height. */
  readonly guess: { readonly x: number; readonly y: number };
}

/** A series with one sentence on it. */
export type KeptSeries = MeasuredSeries & { readonly saying: string };

/** A measuring of one folder as it is kept: everything that it replaces at once. */
export interface Measuring {
  readonly frames: readonly { readonly id: string; readonly measured: MeasuredFrame }[];
  readonly series: readonly KeptSeries[];
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
}

/** A folder that was measured, newest first. */
export interface MeasuredFolder {
  readonly path: string;
  /** ISO 8601; '' where an older library did not note it. */
  readonly measuredAt: string;
  readonly frameCount: number;
}

export type StoredPicture = Picture & { readonly path: string; readonly gaps: readonly BlendGap[] };

export interface Library extends Choices, OwnSeries {
  readonly folder: string;
  setting(name: string): string | null;
  setSetting(name: string, value: string): void;
  putFrame(frame: StoredFrame, survey: Buffer): void;
  frame(id: string): StoredFrame | null;
  /** Notes where a frame lies now. */
  frameMoved(id: string, path: string): void;
  /** The id of a frame with that content, by its SHA-256 in hexadecimal; null for none. */
  frameOfHash(hash: string): string | null;
  /** The frame that was last found at a path. */
  frameAt(path: string): StoredFrame | null;
  survey(id: string): Buffer | null;
  /** Keeps the measuring of a folder in place of its last one; the other folders stay as they are. */
  putMeasuring(folder: string, measuring: Measuring, measuredAt: string): void;
  measuring(folder: string): Measuring;
  /** One frame of a measuring; null where that folder does not hold it. */
  measured(folder: string, frameId: string): MeasuredFrame | null;
  folders(): readonly MeasuredFolder[];
  frameCount(folder: string): number;
  putPicture(picture: StoredPicture): void;
  pictures(): readonly StoredPicture[];
  close(): void;
}

/**
 * Opens the library in a folder, making it when it is not there.
 *
 * @throws DeskFault with a sentence when it cannot be opened
 */
export function openLibrary(folder: string): Library {
  let database: Database.Database;
  try {
    mkdirSync(folder, { recursive: true });
    database = new Database(join(folder, 'library.sqlite'));
    // First of all to wait: another process may be putting the log away, or have been killed at it.
    database.exec(
      'PRAGMA busy_timeout = 5000; PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; PRAGMA cache_size = -16000;',
    );
    migrate(database);
  } catch (error) {
    throw new DeskFault(`The library in ${folder} cannot be opened: ${reasonOf(error)}`, 3);
  }
  return onDatabase(database, folder);
}

/** A library for one run, gone when it is closed: surveys lie on the disk, so that memory stays flat. */
export function openPassingLibrary(): Library {
  const folder = mkdtempSync(join(tmpdir(), 'tepal-'));
  const library = openLibrary(folder);
  return {
    ...library,
    close() {
      library.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function onDatabase(database: Database.Database, folder: string): Library {
  const { run, one, all, together } = queriesOn(database);
  return {
    ...choicesOn(database),
    ...ownSeriesOn(database),
    folder,
    setting: (name) =>
      one<{ value: string }>('SELECT value FROM settings WHERE name = ?', name)?.value ?? null,
    setSetting: (name, value) => void run('INSERT OR REPLACE INTO settings VALUES (?, ?)', name, value),
    putFrame: ({ id, path, kind, bytes, modifiedMs, facts, guess }, survey) =>
      together(() => {
        run('DELETE FROM frames WHERE path = ?', path);
        const about = JSON.stringify({ kind, facts, guess });
        run(
          'INSERT OR REPLACE INTO frames VALUES (?, ?, ?, ?, ?, ?)',
          id,
          path,
          bytes,
          modifiedMs,
          about,
          survey,
        );
      }),
    frame(id) {
      const row = one<FrameRow>('SELECT id, path, bytes, modified_ms, about FROM frames WHERE id = ?', id);
      return row === undefined ? null : storedFrame(row);
    },
    frameMoved: (id, path) => void run('UPDATE frames SET path = ? WHERE id = ?', path, id),
    frameOfHash: (hash) =>
      one<{ id: string }>('SELECT id FROM frames WHERE id = ?', `sha256:${hash.replace(/^sha256:/, '')}`)
        ?.id ?? null,
    frameAt(path) {
      const row = one<FrameRow>(
        'SELECT id, path, bytes, modified_ms, about FROM frames WHERE path = ?',
        path,
      );
      return row === undefined ? null : storedFrame(row);
    },
    survey(id) {
      const row = one<{ survey: Buffer | null }>('SELECT survey FROM frames WHERE id = ?', id);
      return row?.survey ?? null;
    },
    putMeasuring: (of, { frames, series, failed }, measuredAt) =>
      together(() => {
        for (const table of ['measures', 'series', 'failed'])
          run(`DELETE FROM ${table} WHERE folder = ?`, of);
        run('INSERT OR REPLACE INTO folders VALUES (?, ?)', of, measuredAt);
        const measure = database.prepare('INSERT OR REPLACE INTO measures VALUES (?, ?, ?, ?, ?)');
        frames.forEach(({ id, measured }, i) =>
          measure.run(of, id, measured.series, i, JSON.stringify(measured)),
        );
        series.forEach((found, i) =>
          run('INSERT INTO series VALUES (?, ?, ?, ?)', of, found.id, i, JSON.stringify(found)),
        );
        failed.forEach(({ file, reason }) =>
          run('INSERT OR REPLACE INTO failed VALUES (?, ?, ?)', of, file, reason),
        );
      }),
    measuring: (of) => ({
      frames: all<{ frame_id: string; measured: string }>(
        'SELECT frame_id, measured FROM measures WHERE folder = ? ORDER BY position',
        of,
      ).map((row) => ({ id: row.frame_id, measured: JSON.parse(row.measured) as MeasuredFrame })),
      series: all<{ found: string }>('SELECT found FROM series WHERE folder = ? ORDER BY position', of).map(
        (row) => JSON.parse(row.found) as KeptSeries,
      ),
      failed: all<{ file: string; reason: string }>(
        'SELECT file, reason FROM failed WHERE folder = ? ORDER BY file',
        of,
      ).map(({ file, reason }) => ({ file, reason })),
    }),
    measured(of, frameId) {
      const row = one<{ measured: string }>(
        'SELECT measured FROM measures WHERE folder = ? AND frame_id = ?',
        of,
        frameId,
      );
      return row === undefined ? null : (JSON.parse(row.measured) as MeasuredFrame);
    },
    folders: () =>
      all<{ path: string; measured_at: string; n: number }>(
        `SELECT path, measured_at, (SELECT count(*) FROM measures WHERE folder = path) AS n
         FROM folders ORDER BY measured_at DESC, path`,
      ).map((row) => ({ path: row.path, measuredAt: row.measured_at, frameCount: row.n })),
    frameCount: (of) => one<{ n: number }>('SELECT count(*) AS n FROM measures WHERE folder = ?', of)?.n ?? 0,
    putPicture: ({ path, ...picture }) =>
      void run(
        'INSERT OR REPLACE INTO pictures VALUES (?, ?, ?, ?)',
        picture.id,
        picture.madeAt,
        JSON.stringify(picture),
        path,
      ),
    pictures: () =>
      all<{ picture: string; path: string }>(
        'SELECT picture, path FROM pictures ORDER BY made_at DESC, id',
      ).map((row) => ({ ...(JSON.parse(row.picture) as Picture), path: row.path })),
    close: () => void database.close(),
  };
}

interface FrameRow {
  readonly id: string;
  readonly path: string;
  readonly bytes: number;
  readonly modified_ms: number;
  readonly about: string;
}

function storedFrame(row: FrameRow): StoredFrame {
  const about = JSON.parse(row.about) as Pick<StoredFrame, 'kind' | 'facts' | 'guess'>;
  return { id: row.id, path: row.path, bytes: row.bytes, modifiedMs: row.modified_ms, ...about };
}
