/** What the photographer says of a folder: which frames are one series, what a series shows, how the outing was set up. */
import type { OutingSetUp } from '@tepal/formats';
import type Database from 'libsql';
import { queriesOn } from './queries.ts';

export interface OwnSeries {
  /** The photographer's series of a frame, by the frame's id; frames of which nothing was said are not in it. */
  ownSeries(folder: string): ReadonlyMap<string, string>;
  /** Says of some frames which series they are; the others stay as they are. */
  setOwnSeries(folder: string, series: ReadonlyMap<string, string>): void;
  /** What series show of their subject, by series. */
  shows(folder: string): ReadonlyMap<string, string>;
  setShows(folder: string, seriesId: string, view: string | null): void;
  /** What was the same all through the outing that a folder came home from. */
  outing(folder: string): OutingSetUp;
  setOuting(folder: string, setUp: OutingSetUp): void;
}

const NOTHING_SAID: OutingSetUp = { siteId: null, lensId: null, support: null };

export function ownSeriesOn(database: Database.Database): OwnSeries {
  const { run, one, all, together } = queriesOn(database);
  return {
    ownSeries: (of) =>
      new Map(
        all<{ frame_id: string; series: string }>(
          'SELECT frame_id, series FROM own_series WHERE folder = ?',
          of,
        ).map((row) => [row.frame_id, row.series]),
      ),
    setOwnSeries: (of, series) =>
      together(() => {
        for (const [id, key] of series)
          run('INSERT OR REPLACE INTO own_series VALUES (?, ?, ?)', of, id, key);
      }),
    shows: (of) =>
      new Map(
        all<{ series_id: string; view: string }>(
          'SELECT series_id, view FROM shows WHERE folder = ?',
          of,
        ).map((row) => [row.series_id, row.view]),
      ),
    setShows(of, seriesId, view) {
      if (view === null) run('DELETE FROM shows WHERE folder = ? AND series_id = ?', of, seriesId);
      else run('INSERT OR REPLACE INTO shows VALUES (?, ?, ?)', of, seriesId, view);
    },
    outing(of) {
      const row = one<{ set_up: string }>('SELECT set_up FROM outings WHERE folder = ?', of);
      return row === undefined
        ? NOTHING_SAID
        : { ...NOTHING_SAID, ...(JSON.parse(row.set_up) as OutingSetUp) };
    },
    setOuting: (of, { siteId, lensId, support }) =>
      void run(
        'INSERT OR REPLACE INTO outings VALUES (?, ?)',
        of,
        JSON.stringify({ siteId, lensId, support }),
      ),
  };
}
