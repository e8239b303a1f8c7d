/** A decision on a frame as the rating that other programs read, and when one may be written. */
import type { Decision, RatingPlanRow } from '@tepal/formats';

/** -1 (rejected), 0, or 1 to 5, as ISO 16684-1 gives `xmp:Rating`. */
export type Ratings = Readonly<Record<Decision, number>>;

/** Keep, maybe, out as ratings unless the photographer says otherwise. Common practice, no source. */
export const USUAL_RATINGS: Ratings = { keep: 3, maybe: 1, out: -1 };

/**
 * What is to become of the rating of one picture: `write` it, `remove` the one that was written for a decision since
 * taken back, `nothing` where it says so already, or `otherRating`: somebody else's is there and stays unless asked.
 */
export type RatingStep = RatingPlanRow['step'];

/**
 * The step for one picture.
 *
 * @param rated.decision the decision that stands; null for none
 * @param rated.there the rating that the picture bears, -1 to 5; null for none
 * @param rated.writtenByUs the rating that was last written here for an earlier decision; null for none
 * @param rated.changeOthers whether the photographer asked that ratings of others be changed
 */
export function ratingStep(rated: {
  readonly decision: Decision | null;
  readonly there: number | null;
  readonly writtenByUs: number | null;
  readonly ratings: Ratings;
  readonly changeOthers: boolean;
}): RatingStep {
  const { decision, there, writtenByUs, ratings, changeOthers } = rated;
  const ours = there !== null && there === writtenByUs;
  if (decision === null) return ours ? { kind: 'remove' } : { kind: 'nothing' };
  const wanted = ratings[decision];
  if (there === wanted) return { kind: 'nothing' };
  // 0 is "not rated" in the standard, so nobody's judgement is lost by writing over it.
  if (there === null || there === 0 || ours || changeOthers) return { kind: 'write', rating: wanted };
  return { kind: 'otherRating', there, wanted };
}
