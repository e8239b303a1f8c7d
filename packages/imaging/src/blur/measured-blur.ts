/** What a measured blur is, and the cause that its shape points to. */

/** Largest standard deviation along an axis, motion as a uniform streak; in px of the frame that was measured. */
export interface MeasuredBlur {
  /** Sigma on the worst axis [px]; null where nothing could be measured. */
  readonly sigmaPx: number | null;
  /** Interval meant to hold the truth nine times in ten [px]. */
  readonly sigmaLowPx: number | null;
  readonly sigmaHighPx: number | null;
  readonly cause: BlurCause;
  /** Chance that the cause is right [0..1]. */
  readonly confidence: number;
  readonly motion: BlurMotion | null;
  readonly moved: 'camera' | 'subject' | null;
}

export type BlurCause = 'sharp' | 'defocus' | 'motion' | 'both' | 'unclear';

/** A uniform streak [px]; direction from the x axis, counter-clockwise as seen [0..180). */
export interface BlurMotion {
  readonly lengthPx: number;
  readonly directionDeg: number;
}

/** Chance given up for what the models leave out. */
const DOUBT = 0.04;

/** Nothing could be told. */
export const unclearBlur: MeasuredBlur = {
  sigmaPx: null,
  sigmaLowPx: null,
  sigmaHighPx: null,
  cause: 'unclear',
  confidence: 0,
  motion: null,
  moved: null,
};

/** Variances along the worst and the least axis [px²] and where the worst points; base is what the scene itself had. */
export interface BlurAxes {
  readonly worst: number;
  readonly least: number;
  readonly directionDeg: number;
  readonly baseVariance: number;
}

/** A streak shorter than this is not told from a round blur [px]. */
const SHORTEST_STREAK_PX = 1.5;
/** Share of the added variance that only one axis has, from which there is a streak in it. */
const STREAK_FROM = 0.3;
/** Of the least axis, measured beside a streak, so much of the worst may be error. */
const LEAK = 0.08;

/**
 * Names the cause of a blur from its axes.
 *
 * At most `limitPx` on the worst axis: sharp. Beyond it, by the share of the variance added to the base that only one
 * axis has: little, defocus. A streak is the only cause where the frame would have been sharp without it, and one of
 * both where it would not. A trial on rendered flowers found shares of 0.82 to 1 for streaks and at most 0.25 for
 * round blurs.
 *
 * @param relativeError of sigma, for the confidence near the limits [0..]
 */
export function causeOf(
  axes: BlurAxes,
  limitPx: number,
  relativeError: number,
): { readonly cause: BlurCause; readonly confidence: number; readonly motion: BlurMotion | null } {
  const { worst, least, directionDeg, baseVariance } = axes;
  const sigma = Math.sqrt(worst + baseVariance);
  const oneSided = worst > 0 ? (worst - least) / worst : 0;
  const lengthPx = Math.sqrt(12 * Math.max(0, worst - least));
  const motion = oneSided > STREAK_FROM && lengthPx > SHORTEST_STREAK_PX ? { lengthPx, directionDeg } : null;
  const certain = (distance: number, scale: number) =>
    (1 - DOUBT) * (0.5 + 0.5 * Math.tanh(Math.abs(distance) / Math.max(scale, 1e-6)));
  const past = certain(Math.log(sigma / limitPx), Math.max(0.03, relativeError));
  if (sigma <= limitPx) return { cause: 'sharp', confidence: past, motion };
  const streak = certain(oneSided - STREAK_FROM, 0.15);
  if (motion === null) return { cause: 'defocus', confidence: past * streak, motion };
  // What stays without the streak, against what would still be sharp or is within the error.
  const sharpWithout = Math.max(limitPx ** 2 - baseVariance, LEAK * worst);
  const beyond = certain(Math.log((least + 0.05) / (sharpWithout + 0.05)), 0.5);
  return { cause: least > sharpWithout ? 'both' : 'motion', confidence: past * streak * beyond, motion };
}

/**
 * Tells camera from subject motion by the streaks found elsewhere in the frame.
 *
 * Camera shake smears everything that is near focus alike; a plant that moved leaves its surroundings. Close up, a
 * background that is merely out of focus says nothing, so places without a measured motion count only when sharp.
 *
 * @param here motion at the point of focus
 * @param elsewhere blur at other structured places
 * @returns null where the other places do not decide
 */
export function whoMoved(
  here: BlurMotion | null,
  elsewhere: readonly Pick<MeasuredBlur, 'motion' | 'cause'>[],
): 'camera' | 'subject' | null {
  if (here === null) return null;
  let alike = 0;
  let still = 0;
  for (const { motion, cause } of elsewhere) {
    if (motion !== null) {
      const apart = Math.abs(((motion.directionDeg - here.directionDeg + 270) % 180) - 90);
      const ratio = motion.lengthPx / here.lengthPx;
      if (apart < 20 && ratio > 0.6 && ratio < 1.67) alike++;
      else still++;
    } else if (cause === 'sharp') {
      still++;
    }
  }
  const all = alike + still;
  if (all < 2) return null;
  return alike / all >= 0.7 ? 'camera' : still / all >= 0.7 ? 'subject' : null;
}
