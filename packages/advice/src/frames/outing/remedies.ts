/** What would have helped: the spoiled frames again, with the part of the blur that a remedy shortens made smaller. */
import type { MeasuredFrame } from '@tepal/formats';
import { requireInRange } from '@tepal/science';

/** A spoiled frame with the blur it would have had without the spoiler. */
export interface SpoiledFrame extends Pick<MeasuredFrame, 'blur'> {
  /** Blur of the sharpest frame of its series [px]. */
  readonly leastSigmaPx: number;
  /** The largest sharp sigma for it [px]. */
  readonly limitPx: number;
}

/** How many of the spoiled frames would have been sharp: the likeliest number and its range by the measures' intervals. */
export interface Rescued {
  readonly count: number;
  readonly low: number;
  readonly high: number;
}

/**
 * How many spoiled frames a remedy would have made sharp.
 *
 *   after² = least² + shrink² (sigma² - least²)
 *
 * Independent causes convolve, so their variances add: what a frame has above the sharpest of its series is the
 * spoiler's. Motion over a short exposure is a streak proportional to time, so half the time is shrink 1/2; the disc
 * of defocus goes with 1/N, so one stop more is shrink 1/sqrt 2. Holds for the blur that was measured, not for
 * another day's wind.
 *
 * @param shrink the spoiler's sigma afterwards over that before [0..1]
 * @returns counts with low <= count <= high
 * @throws DomainError if `shrink` lies outside 0..1
 * @source OI 1 (variances of independent blurs add), as in the contract's table of causes
 */
export function rescuedBy(frames: readonly SpoiledFrame[], shrink: number): Rescued {
  requireInRange('shrink', shrink, { what: 'a ratio', min: 0, max: 1 });
  const sharpAfter = (sigmaOf: (blur: MeasuredFrame['blur']) => number | null) =>
    frames.filter(({ blur, leastSigmaPx, limitPx }) => {
      const sigma = sigmaOf(blur);
      if (sigma === null) return false;
      const least = Math.min(leastSigmaPx, sigma);
      return Math.sqrt(least ** 2 + shrink ** 2 * (sigma ** 2 - least ** 2)) <= limitPx;
    }).length;
  const count = sharpAfter((blur) => blur.sigmaPx);
  return {
    count,
    low: Math.min(
      count,
      sharpAfter((blur) => blur.sigmaHighPx ?? blur.sigmaPx),
    ),
    high: Math.max(
      count,
      sharpAfter((blur) => blur.sigmaLowPx ?? blur.sigmaPx),
    ),
  };
}
