// The library: folders beside one another, decisions that outlast a measuring, and every older schema brought up.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { MeasuredFrame } from '@tepal/formats';
import Database from 'libsql';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openLibrary, type KeptSeries, type Library, type StoredFrame } from './library.ts';

let folder: string;
let library: Library;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-library-'));
  library = openLibrary(folder);
});
afterEach(() => {
  library.close();
  rmSync(folder, { recursive: true, force: true });
});

const measured = (file: string): MeasuredFrame => ({
  ...{ file, takenAt: null, series: 'a', widthPx: 600, heightPx: 400, rank: 1 },
  exposure: { fNumber: null, exposureTimeS: null, iso: null, focalLengthMm: null },
  point: { x: 0.5, y: 0.5, origin: 'guessed' },
  blur: {
    ...{ sigmaPx: 1, sigmaLowPx: 0.9, sigmaHighPx: 1.1, cause: 'sharp', confidence: 0.9, motion: null },
    moved: null,
  },
  clipped: { red: 0, green: 0, blue: 0 },
  ...{ evennessStops: 1, clutter: 0.5, companions: [], reasons: [] },
});

const series: KeptSeries = {
  ...{ id: 'a', kind: 'single', files: ['a.jpg'], best: 'a.jpg', blendSuggested: false, saying: '' },
  ...{ startedAt: null, endedAt: null },
};

const measuring = (id: string) => ({
  frames: [{ id, measured: measured('a.jpg') }],
  series: [series],
  failed: [{ file: 'b.jpg', reason: 'It is cut off.' }],
});

const at = '2026-06-11T09:00:00Z';

describe('folders', () => {
  it('keeps what was measured in one when another is measured, though their files bear the same names', () => {
    library.putMeasuring('/one', measuring('1'), at);
    library.putMeasuring('/two', measuring('2'), '2026-06-12T09:00:00Z');
    expect(library.measuring('/one')).toEqual(measuring('1'));
    expect(library.measuring('/two')).toEqual(measuring('2'));
    expect(library.folders().map(({ path, frameCount }) => [path, frameCount])).toEqual([
      ['/two', 1],
      ['/one', 1],
    ]);
    expect(library.measured('/one', '1')?.file).toBe('a.jpg');
    expect(library.measured('/one', '2')).toBeNull();
  });

  it('replaces what was measured in one, and keeps the names of its series and the decisions', () => {
    library.putMeasuring('/one', measuring('1'), at);
    library.setName('/one', 'a', 'By the ditch');
    library.decide('1', 'keep');
    library.putMeasuring('/one', { frames: [], series: [], failed: [] }, at);
    library.putMeasuring('/one', measuring('1'), at);
    expect(library.names('/one').get('a')).toBe('By the ditch');
    expect(library.names('/two').get('a')).toBeUndefined();
    expect(library.decision('1')).toBe('keep');
  });

  it('leaves everything as it was when a measuring cannot be kept', () => {
    library.putMeasuring('/one', measuring('1'), at);
    const twice = { ...measuring('3'), series: [series, series] };
    expect(() => library.putMeasuring('/one', twice, at)).toThrow();
    expect(library.measuring('/one')).toEqual(measuring('1'));
  });
});

describe('what the photographer says of a folder', () => {
  it('outlasts a measuring, and belongs to that folder alone', () => {
    library.setOwnSeries('/one', new Map([['1', 'a']]));
    library.setShows('/one', 'a', 'leaf');
    library.setOuting('/one', { siteId: 'bank', lensId: null, support: 'elbows' });
    library.putMeasuring('/one', measuring('1'), at);
    expect(library.ownSeries('/one').get('1')).toBe('a');
    expect(library.shows('/one').get('a')).toBe('leaf');
    expect(library.outing('/one')).toEqual({ siteId: 'bank', lensId: null, support: 'elbows' });
    expect(library.outing('/two')).toEqual({ siteId: null, lensId: null, support: null });
    expect([library.ownSeries('/two').size, library.shows('/two').size]).toEqual([0, 0]);
    library.setShows('/one', 'a', null);
    expect(library.shows('/one').size).toBe(0);
  });
});

describe('frames', () => {
  const frame = (id: string, path: string): StoredFrame => ({
    ...{ id, path, kind: 'jpeg', bytes: 9, modifiedMs: 1, guess: { x: 0.5, y: 0.5 } },
    facts: { widthPx: 600, heightPx: 400 } as StoredFrame['facts'],
  });

  it('are found by their path, by their content, and anew when the file at a path changed', () => {
    library.putFrame(frame('sha256:aa', '/one/a.jpg'), Buffer.from([1, 2]));
    expect(library.frameAt('/one/a.jpg')?.id).toBe('sha256:aa');
    expect(library.frameOfHash('aa')).toBe('sha256:aa');
    expect(library.frameOfHash('bb')).toBeNull();
    library.putMeasuring('/one', measuring('sha256:aa'), at);
    library.putFrame(frame('sha256:bb', '/one/a.jpg'), Buffer.from([3]));
    expect(library.frameAt('/one/a.jpg')?.id).toBe('sha256:bb');
    expect(library.survey('sha256:bb')).toEqual(Buffer.from([3]));
  });
});

describe('schema', () => {
  it('brings the first schema up: what was measured belongs to the folder that was open', () => {
    library.close();
    rmSync(join(folder, 'library.sqlite'));
    const old = new Database(join(folder, 'library.sqlite'));
    // The tables of schema 1 as they were released.
    old.exec(`
      CREATE TABLE settings (name TEXT PRIMARY KEY, value TEXT NOT NULL);
      CREATE TABLE frames (id TEXT PRIMARY KEY, path TEXT NOT NULL, bytes INTEGER NOT NULL, modified_ms REAL NOT NULL,
        about TEXT NOT NULL, survey BLOB);
      CREATE INDEX frames_by_path ON frames (path);
      CREATE TABLE measures (frame_id TEXT PRIMARY KEY, series_id TEXT NOT NULL, position INTEGER NOT NULL,
        measured TEXT NOT NULL);
      CREATE TABLE series (id TEXT PRIMARY KEY, position INTEGER NOT NULL, found TEXT NOT NULL);
      CREATE TABLE names (series_id TEXT PRIMARY KEY, name TEXT NOT NULL);
      CREATE TABLE points (frame_id TEXT PRIMARY KEY, x REAL NOT NULL, y REAL NOT NULL);
      CREATE TABLE decisions (frame_id TEXT PRIMARY KEY, decision TEXT NOT NULL);
      CREATE TABLE failed (file TEXT PRIMARY KEY, reason TEXT NOT NULL);
      CREATE TABLE pictures (id TEXT PRIMARY KEY, made_at TEXT NOT NULL, picture TEXT NOT NULL, path TEXT NOT NULL);
      INSERT INTO settings VALUES ('folder', '/meadow');
      INSERT INTO names VALUES ('a', 'By the ditch');
      INSERT INTO decisions VALUES ('1', 'keep');
      INSERT INTO failed VALUES ('b.jpg', 'It is cut off.');
      PRAGMA user_version = 1;
    `);
    old
      .prepare('INSERT INTO measures VALUES (?, ?, ?, ?)')
      .run('1', 'a', 0, JSON.stringify(measured('a.jpg')));
    old.prepare('INSERT INTO series VALUES (?, ?, ?)').run('a', 0, JSON.stringify(series));
    old.close();
    library = openLibrary(folder);
    expect(library.measuring('/meadow')).toEqual(measuring('1'));
    expect(library.names('/meadow').get('a')).toBe('By the ditch');
    expect(library.decision('1')).toBe('keep');
    expect(library.ownSeries('/meadow').size).toBe(0);
  });

  it('brings a library of schema 3 up: what was decided stays, and series can be parted in it', () => {
    library.putMeasuring('/one', measuring('1'), at);
    library.decide('1', 'keep');
    library.close();
    const old = new Database(join(folder, 'library.sqlite'));
    old.exec('DROP TABLE own_series; DROP TABLE shows; DROP TABLE outings; PRAGMA user_version = 3');
    old.close();
    library = openLibrary(folder);
    expect(library.decision('1')).toBe('keep');
    library.setOwnSeries('/one', new Map([['1', 'a']]));
    expect(library.ownSeries('/one')).toEqual(new Map([['1', 'a']]));
  });

  it('refuses a library of a newer Tepal with a sentence', () => {
    library.close();
    const newer = new Database(join(folder, 'library.sqlite'));
    newer.exec('PRAGMA user_version = 999');
    newer.close();
    expect(() => openLibrary(folder)).toThrow(/newer Tepal \(schema 999/);
    const back = new Database(join(folder, 'library.sqlite'));
    back.exec('PRAGMA user_version = 4');
    back.close();
    library = openLibrary(folder);
  });
});
