/**
 * Variance of displacement during an exposure, for a motion of one frequency whose amplitude changes slowly.
 *
 * About the middle of the exposure the path is a cos(wt) + b sin(wt). Its variance within the exposure is
 * a^2 even + b^2 odd, with
 *
 *   odd  = (1 - sinc 2x)/2      even = (1 + sinc 2x)/2 - sinc^2 x      x = F T, sinc x = sin(pi x)/(pi x)
 *
 * The odd part is the velocity in mid-exposure, the even part the turning point. For a Gaussian process of variance
 * s^2 both a and b are independent and normal with variance s^2, so the mean is s^2 (1 - sinc^2 x): velocity
 * times T / sqrt12 when short, s^2 when long.
 */
import { requireNotNegative } from '../../domain-error.ts';

/** Shares of a motion's squared amplitude that blur within one exposure [1]. */
export interface WithinExposure {
  /** Of the part that crosses the middle in mid-exposure. */
  readonly odd: number;
  /** Of the part that turns in mid-exposure. */
  readonly even: number;
}

/** Below this x the even share is taken from its series; above, cancellation is harmless. */
const SERIES_BELOW = 0.005;

/**
 * The two shares for an exposure of T at a frequency F.
 *
 * @param frequencyHz F [Hz], >= 0
 * @param exposureTimeS T [s], >= 0
 * @throws DomainError
 */
export function withinExposure(frequencyHz: number, exposureTimeS: number): WithinExposure {
  const x =
    requireNotNegative('frequencyHz', frequencyHz, 'Hz') *
    requireNotNegative('exposureTimeS', exposureTimeS, 's');
  const y2 = (Math.PI * x) ** 2;
  if (x < SERIES_BELOW) return { odd: (y2 / 3) * (1 - y2 / 5), even: (y2 * y2) / 45 };
  const sinc = Math.sin(Math.PI * x) / (Math.PI * x);
  const sinc2 = Math.sin(2 * Math.PI * x) / (2 * Math.PI * x);
  return { odd: (1 - sinc2) / 2, even: Math.max(0, (1 + sinc2) / 2 - sinc ** 2) };
}

/**
 * Mean over phase of the variance within an exposure, as a share of the motion's own variance: 1 - sinc^2(F T).
 *
 * @returns 0 to 1
 * @throws DomainError
 */
export function meanVarianceShare(frequencyHz: number, exposureTimeS: number): number {
  const { odd, even } = withinExposure(frequencyHz, exposureTimeS);
  return odd + even;
}
