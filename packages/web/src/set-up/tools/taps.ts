/** Taps in time with the swings. */

/** After so long without a tap a new count begins [s]: nothing photographed close swings so slowly. */
const newCountS = 6;
/** Two touches nearer than this are one finger [s]. */
const oneFingerS = 0.06;
const mostTaps = 200;

/** The taps with one more; a finger that bounced is passed over. */
export function withTap(tapsS: readonly number[], atS: number): readonly number[] {
  const last = tapsS.at(-1);
  if (last === undefined || atS - last > newCountS || atS < last) return [atS];
  return atS - last < oneFingerS ? tapsS : [...tapsS, atS].slice(-mostTaps);
}

/**
 * The slowest mark that is at most as long as asked.
 *
 * @param marksS rising
 * @returns null where even the fastest is too slow
 */
export const fastEnough = (marksS: readonly number[], longestS: number): number | null =>
  marksS.findLast((mark) => mark <= longestS * 1.001) ?? null;
