/** Frames into series: advice decides, the pool registers the pairs that it asks about. */
import { groupIntoSeries, type GroupedSeries } from '@tepal/advice';
import type { Registration } from '@tepal/imaging';
import { DeskFault } from '../files/faults.ts';
import { openSmallLumas, type SmallLumas } from './small-lumas.ts';
import type { Pool } from './pool.ts';
import { inTurn, type PassOptions, type SurveyedFrame } from './survey-pass.ts';

type Grouped = SurveyedFrame & ReturnType<typeof toGroup>;

function toGroup(frame: SurveyedFrame) {
  const { widthPx, heightPx, exposure, takenAtMs, camera } = frame.facts;
  return { ...frame, widthPx, heightPx, exposure, takenAtMs, camera };
}

/** Advice asks while it groups; each round answers what the last one asked, until it asks nothing new. */
const MOST_ROUNDS = 4;

/**
 * @returns the series in the order of their first frames
 * @throws DeskFault when stopped
 */
export async function groupFrames(
  frames: readonly SurveyedFrame[],
  options: Pick<PassOptions, 'library' | 'pool' | 'signal' | 'tell'>,
): Promise<readonly GroupedSeries<SurveyedFrame>[]> {
  const all = frames.map(toGroup);
  const known = new Map<string, number | null>();
  const lumas = openSmallLumas(options.library);
  for (let round = 0; ; round += 1) {
    const asked: [Grouped, Grouped][] = [];
    const series = groupIntoSeries(all, (a, b) => {
      const pair = [`${a.id} ${b.id}`, `${b.id} ${a.id}`].find((key) => known.has(key));
      if (pair === undefined) asked.push([a, b]);
      return pair === undefined ? null : (known.get(pair) ?? null);
    });
    if (asked.length === 0 || round === MOST_ROUNDS) return series;
    if (round === 0) {
      options.tell({ done: 0, total: asked.length, saying: 'Finding which frames show the same.' });
    }
    let done = 0;
    await inTurn(asked, options.pool.size, async ([a, b]) => {
      if (options.signal.aborted) throw new DeskFault('The work was stopped.');
      const registration = await registerPair(a, b, lumas, options.pool);
      known.set(`${a.id} ${b.id}`, registration?.correlation ?? null);
      done += 1;
      if (round === 0) options.tell({ done });
    });
  }
}

/** How the small luma of `moving` lies on that of `reference`; null where it cannot be told. */
export async function registerPair(
  reference: SurveyedFrame,
  moving: SurveyedFrame,
  lumas: SmallLumas,
  pool: Pool,
): Promise<Registration | null> {
  const a = lumas.of(reference.id);
  const b = lumas.of(moving.id);
  if (a === null || b === null || a.factor !== b.factor) return null;
  try {
    return await pool.run('register', { reference: a, moving: b });
  } catch {
    // Pictures too small or too plain to be registered say neither yes nor no.
    return null;
  }
}
