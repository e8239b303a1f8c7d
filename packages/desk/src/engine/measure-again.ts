/** A few series of the open folder measured again, as they are or parted and joined; the others stay as they were. */
import { DELIVERIES } from '@tepal/advice';
import { measureSeries, type SeriesResult } from '../measure/measure-series.ts';
import type { SurveyedFrame } from '../measure/survey-pass.ts';
import type { JobWork } from './jobs.ts';
import type { Store } from './stores.ts';
import { withPool } from './work.ts';

/** The series that are taken, by id, and the frames of each new one, by id. */
export interface Regrouped {
  readonly taken: readonly string[];
  readonly into: readonly { readonly id: string; readonly frameIds: readonly string[] }[];
}

/**
 * Measures series again: at a point that was marked in one of their frames, or parted and joined. A frame that cannot
 * be read any more drops out of its series, as in any measuring.
 */
export function againWork(store: Store, saying: string, { taken, into }: Regrouped): JobWork {
  return (signal, tell) =>
    withPool(signal, null, async (pool) => {
      const { library } = store;
      const folder = store.photographs() ?? '';
      const before = library.measuring(folder);
      const members = new Map(
        before.frames.flatMap(({ id, measured }): [string, SurveyedFrame][] => {
          const found = taken.includes(measured.series) ? library.frame(id) : null;
          if (found === null) return [];
          const { path, kind, facts, guess } = found;
          const { file, companions } = measured;
          return [[id, { id, path, kind, facts, guess, file, companions }]];
        }),
      );
      const marks = library.points();
      let done = 0;
      tell({ done, total: members.size, saying });
      const results: SeriesResult[] = [];
      for (const { id, frameIds } of into) {
        const frames = frameIds.flatMap((frameId) => members.get(frameId) ?? []);
        const mark = frames.find((frame) => marks.has(frame.id));
        if (frames.length === 0) continue;
        results.push(
          await measureSeries(id, frames, {
            ...{ library, pool, signal, delivery: DELIVERIES[0]! },
            marked: mark === undefined ? null : { frameId: mark.id, ...marks.get(mark.id)! },
            step: () => tell({ done: (done += 1) }),
          }),
        );
      }
      const again = new Map(results.flatMap(({ frames }) => frames).map((frame) => [frame.id, frame]));
      const made = results.flatMap(({ series }) => series ?? []);
      const others = before.series.filter(({ id }) => !taken.includes(id));
      const at = before.series.findIndex(({ id }) => taken.includes(id));
      library.putMeasuring(
        folder,
        {
          frames: before.frames.map((frame) => again.get(frame.id) ?? frame),
          // Where nothing could be read again, everything stays as it was.
          series: made.length < into.length ? before.series : others.toSpliced(at, 0, ...made),
          failed: before.failed,
        },
        new Date().toISOString(),
      );
      return { saying: 'Measured again.', failed: results.flatMap(({ failed }) => failed) };
    });
}
