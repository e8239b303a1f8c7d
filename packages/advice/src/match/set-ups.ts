/** Which set-up a frame was taken with, by time. */
import { parseInstantMs } from '@tepal/formats';
import type { SetUp } from '@tepal/notebook';

/** A frame's set-up, and how sure that is. */
export type MatchedSetUp =
  | { readonly kind: 'matched'; readonly setUp: SetUp; readonly gapS: number }
  /** Logged set-ups disagree, or none is near enough in time. */
  | { readonly kind: 'unmatched' };

/** A set-up holds for so long after it was logged, unless another was logged. Ours: one series at one plant. */
const HOLDS_S = 3600;
/** Logged after the first frames of a series, but not later than this. */
const LOGGED_AFTER_S = 300;

/**
 * The set-up of each frame: the last one logged before it, else the first one logged shortly after it.
 *
 * @param framesMs times by the camera [ms since 1970, digits as if UTC]
 * @param offsetS what to add to them to get the true time [s], the zone included
 * @param setUps of the outing, in any order
 */
export function matchSetUps(
  framesMs: readonly (number | null)[],
  setUps: readonly SetUp[],
  offsetS: number,
): readonly MatchedSetUp[] {
  const logged = setUps
    .flatMap((setUp) => {
      const atMs = parseInstantMs(setUp.at);
      return atMs === null ? [] : [{ setUp, atMs }];
    })
    .sort((a, b) => a.atMs - b.atMs);
  return framesMs.map((frameMs): MatchedSetUp => {
    if (frameMs === null) return { kind: 'unmatched' };
    const trueMs = frameMs + offsetS * 1000;
    const before = logged.filter(({ atMs }) => atMs <= trueMs).at(-1);
    const after = logged.find(({ atMs }) => atMs > trueMs);
    const since = before === undefined ? Infinity : (trueMs - before.atMs) / 1000;
    const until = after === undefined ? Infinity : (after.atMs - trueMs) / 1000;
    if (before !== undefined && since <= HOLDS_S)
      return { kind: 'matched', setUp: before.setUp, gapS: since };
    if (after !== undefined && until <= LOGGED_AFTER_S)
      return { kind: 'matched', setUp: after.setUp, gapS: -until };
    return { kind: 'unmatched' };
  });
}
