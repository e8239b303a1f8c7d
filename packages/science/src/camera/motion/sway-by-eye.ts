/** A sway watched rather than computed: taps in time with the swings, and how far the head goes in its own widths. */
import { DomainError, requireFinite, requireOneOf, requirePositive } from '../../domain-error.ts';
import { longestMidSwingS } from './quiet-moment.ts';

/** What the eye saw. */
export interface WatchedSway {
  /** Moments of the taps [s], rising, at least three. A missed tap does no harm. */
  readonly tapsS: readonly number[];
  /** One tap for each there-and-back, or one at either end. */
  readonly tapped: 'eachSwing' | 'eachEnd';
  /** How far the head travels from end to end, in widths of the head [1], > 0. */
  readonly travelHeadWidths: number;
  readonly headWidthMm: number;
}

/** The sway as numbers. */
export interface SwayByEye {
  /** Half of the travel [mm]. */
  readonly amplitudeMm: number;
  /** Standard deviation of displacement: amplitude sqrt(2/pi), a typical swing of a Gaussian sway [mm]. */
  readonly displacementMm: number;
  readonly frequencyHz: number;
  /** 90 % interval of the frequency [Hz]. */
  readonly frequencyRangeHz: readonly [number, number];
  /** Standard deviation of velocity, 2 pi F times the displacement's [mm/s]. */
  readonly speedMmS: number;
}

/**
 * The sway behind the taps: the period is the slope of tap time against tap number by least squares, numbers given by
 * the median interval so that a missed tap counts as two intervals.
 *
 * The eye takes the travel for that of a typical swing; the envelope of a Gaussian sway is Rayleigh's, whose mean is
 * sqrt(pi/2) standard deviations.
 *
 * @throws DomainError for fewer than three taps, taps that do not rise, or a length that is not above 0
 * @source Rice 1944, Bell Syst. Tech. J. 23, envelope of narrow-band noise (from memory)
 */
export function swayByEye(watched: WatchedSway): SwayByEye {
  const width = requirePositive('headWidthMm', watched.headWidthMm, 'mm');
  const amplitudeMm = (requirePositive('travelHeadWidths', watched.travelHeadWidths) * width) / 2;
  const perSwing = requireOneOf('tapped', watched.tapped, ['eachSwing', 'eachEnd']) === 'eachEnd' ? 2 : 1;
  const { periodS, errorS } = tapPeriod(watched.tapsS);
  const F = 1 / (perSwing * periodS);
  // A slope known worse than to half of itself is no slope; the interval then ends there.
  const off = Math.min(0.5, (1.645 * errorS) / periodS);
  const displacementMm = amplitudeMm * Math.sqrt(2 / Math.PI);
  return {
    amplitudeMm,
    displacementMm,
    frequencyHz: F,
    frequencyRangeHz: [F / (1 + off), F / (1 - off)],
    speedMmS: 2 * Math.PI * F * displacementMm,
  };
}

/**
 * The longest exposure that freezes a swing wherever it is caught: the middle of the swing blurs by at most the limit.
 *
 * @param limitUm largest sigma [µm on the sensor], > 0
 * @returns [s]; at most half a swing
 * @throws DomainError
 */
export function freezingTimeS(
  sway: Pick<SwayByEye, 'amplitudeMm' | 'frequencyHz'>,
  magnification: number,
  limitUm: number,
): number {
  const { amplitudeMm, frequencyHz } = sway;
  return longestMidSwingS({ amplitudeMm, frequencyHz, magnification, limitUm });
}

/** Slope of tap time against tap number and its standard error. */
function tapPeriod(tapsS: readonly number[]): { readonly periodS: number; readonly errorS: number } {
  tapsS.forEach((t) => requireFinite('tapsS', t, 's'));
  const steps = tapsS.slice(1).map((t, i) => t - tapsS[i]!);
  if (tapsS.length < 3 || !steps.every((step) => step > 0)) {
    throw new DomainError(
      'wrongOrder',
      'at least three moments in s, each after the one before',
      'tapsS',
      tapsS.join(', '),
    );
  }
  const median = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)]!;
  let number = 0;
  const numbers = [0, ...steps.map((step) => (number += Math.max(1, Math.round(step / median))))];
  const n = tapsS.length;
  const meanNumber = numbers.reduce((a, b) => a + b, 0) / n;
  const meanTime = tapsS.reduce((a, b) => a + b, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  tapsS.forEach((t, i) => {
    const x = numbers[i]! - meanNumber;
    xx += x * x;
    xy += x * (t - meanTime);
    yy += (t - meanTime) ** 2;
  });
  const periodS = xy / xx;
  const residual2 = Math.max(0, yy - periodS * xy) / (n - 2);
  return { periodS, errorS: Math.sqrt(residual2 / xx) };
}
