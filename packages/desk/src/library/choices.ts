/** What the photographer chose and nothing can rebuild: names, marked points, decisions, and what came of them. */
import type { Decision } from '@tepal/formats';
import type Database from 'libsql';
import { queriesOn } from './queries.ts';

/** A file that was moved to the folder beside. */
export interface Move {
  readonly frameId: string;
  readonly from: string;
  readonly to: string;
  /** Whether it is the frame itself, not a companion. */
  readonly isFrame: boolean;
}

export interface Choices {
  /** The photographer's names of series, by series. */
  names(folder: string): ReadonlyMap<string, string>;
  setName(folder: string, seriesId: string, name: string): void;
  points(): ReadonlyMap<string, { readonly x: number; readonly y: number }>;
  setPoint(frameId: string, point: { readonly x: number; readonly y: number }): void;
  clearPoints(frameIds: readonly string[]): void;
  decisions(): ReadonlyMap<string, Decision>;
  decision(frameId: string): Decision | null;
  decide(frameId: string, decision: Decision | null): void;
  /** Ratings that were written for decisions, by frame. */
  writtenRatings(): ReadonlyMap<string, number>;
  /** @param rating null when the rating was taken out again */
  noteRating(frameId: string, rating: number | null): void;
  /** Files that are away, in the order in which they went. */
  moves(): readonly Move[];
  /** Noted before the file moves, so that a kill in between loses no file. */
  noteMove(move: Move): void;
  /** The file is back, or never went. */
  forgetMove(move: Move): void;
}

export function choicesOn(database: Database.Database): Choices {
  const { run, one, all, together } = queriesOn(database);
  return {
    names: (of) =>
      new Map(
        all<{ series_id: string; name: string }>(
          'SELECT series_id, name FROM names WHERE folder = ?',
          of,
        ).map((row) => [row.series_id, row.name]),
      ),
    setName: (of, seriesId, name) =>
      void run('INSERT OR REPLACE INTO names VALUES (?, ?, ?)', of, seriesId, name),
    points: () =>
      new Map(
        all<{ frame_id: string; x: number; y: number }>('SELECT frame_id, x, y FROM points').map((row) => [
          row.frame_id,
          { x: row.x, y: row.y },
        ]),
      ),
    setPoint: (frameId, { x, y }) =>
      void run('INSERT OR REPLACE INTO points VALUES (?, ?, ?)', frameId, x, y),
    clearPoints: (frameIds) =>
      together(() => frameIds.forEach((id) => run('DELETE FROM points WHERE frame_id = ?', id))),
    decisions: () =>
      new Map(
        all<{ frame_id: string; decision: Decision }>('SELECT frame_id, decision FROM decisions').map(
          (row) => [row.frame_id, row.decision],
        ),
      ),
    decision: (frameId) =>
      one<{ decision: Decision }>('SELECT decision FROM decisions WHERE frame_id = ?', frameId)?.decision ??
      null,
    decide(frameId, decision) {
      if (decision === null) run('DELETE FROM decisions WHERE frame_id = ?', frameId);
      else run('INSERT OR REPLACE INTO decisions VALUES (?, ?)', frameId, decision);
    },
    writtenRatings: () =>
      new Map(
        all<{ frame_id: string; rating: number }>('SELECT frame_id, rating FROM written_ratings').map(
          (row) => [row.frame_id, row.rating],
        ),
      ),
    noteRating(frameId, rating) {
      if (rating === null) run('DELETE FROM written_ratings WHERE frame_id = ?', frameId);
      else run('INSERT OR REPLACE INTO written_ratings VALUES (?, ?)', frameId, rating);
    },
    moves: () =>
      all<{ frame_id: string; from_path: string; to_path: string; is_frame: number }>(
        'SELECT frame_id, from_path, to_path, is_frame FROM moves ORDER BY id',
      ).map((row) => ({
        frameId: row.frame_id,
        from: row.from_path,
        to: row.to_path,
        isFrame: row.is_frame === 1,
      })),
    noteMove: ({ frameId, from, to, isFrame }) =>
      void run(
        'INSERT INTO moves (frame_id, from_path, to_path, is_frame) VALUES (?, ?, ?, ?)',
        frameId,
        from,
        to,
        isFrame ? 1 : 0,
      ),
    forgetMove: ({ from, to }) => void run('DELETE FROM moves WHERE from_path = ? AND to_path = ?', from, to),
  };
}
