/** Lulls: how long the wind stays below a speed, and how long one waits for it. */
import { requireInRange, requirePositive, requireShare } from '../../domain-error.ts';

/** Lulls below a threshold, or that the wind is always below it or never. */
export type Lulls =
  | {
      readonly kind: 'comeAndGo';
      /** P, share of the time below the threshold [0..1]. */
      readonly shareOfTime: number;
      /** nu, lulls a second [Hz]. */
      readonly rateHz: number;
      /** Mean length of a lull, P/nu [s]. */
      readonly meanLengthS: number;
      /** Mean time between the starts of two lulls, 1/nu [s]. */
      readonly betweenStartsS: number;
      /** Mean wait for calm from a random instant [s]; 0 in a lull. See `lullsBelow` for what it assumes. */
      readonly expectedWaitS: number;
    }
  | { readonly kind: 'alwaysCalm' }
  | { readonly kind: 'neverCalm' };

/** Shares nearer to 0 or 1 than this are named "never" and "always": Phi^-1 has no honest value there. */
const edgeOfCertainty = 1e-9;

/**
 * Lulls below a threshold, from the share of the time below it.
 *
 *   z = Phi^-1(P);  nu = nu0 exp(-z^2/2);  mean lull P/nu;  mean gap (1 - P)/nu
 *
 * Gaussian in z, so that any spread of speeds may be put in through P (translation process). The expected wait counts
 * from a random instant: with chance P it falls in a lull and the wait is 0; with chance 1 - P it falls in a gap, of
 * which the mean remainder is E[G^2] / (2 E[G]). Gaps are taken as exponential, for which that is their mean, so
 *
 *   wait = (1 - P) (1 - P) / nu
 *
 * The exponential law is an assumption: long gaps above a high level are near it, short ones are more even (mean
 * remainder down to 0.64 of it for Rayleigh's law), so the wait is rather too long than too short.
 *
 * @param shareOfTime P [0..1]
 * @param zeroCrossingRateHz nu0, up-crossings of the median [Hz], above 0; 0.1 to 0.3 at flower scale with 1 s
 *   averaging (from memory)
 * @throws DomainError outside the ranges
 * @source Rice 1944 and 1945, Bell Syst. Tech. J. 23 and 24; Grigoriu 1984 for the translation; wait: renewal theory
 */
export function lullsBelow(shareOfTime: number, zeroCrossingRateHz: number): Lulls {
  const P = requireShare('shareOfTime', shareOfTime);
  const nu0 = requirePositive('zeroCrossingRateHz', zeroCrossingRateHz, 'Hz');
  if (P < edgeOfCertainty) return { kind: 'neverCalm' };
  if (P > 1 - edgeOfCertainty) return { kind: 'alwaysCalm' };
  const z = standardNormalQuantile(P);
  const rateHz = nu0 * Math.exp((-z * z) / 2);
  return {
    kind: 'comeAndGo',
    shareOfTime: P,
    rateHz,
    meanLengthS: P / rateHz,
    betweenStartsS: 1 / rateHz,
    expectedWaitS: (1 - P) ** 2 / rateHz,
  };
}

/**
 * Chance that a lull lasts longer than a time, by Rice's law for deep thresholds: exp[-(pi/4) (t/mean)^2].
 *
 * Real lulls lie between this and exp(-t/mean); see `lullOutlastsExponential`.
 */
export function lullOutlastsRayleigh(timeS: number, meanLengthS: number): number {
  const t = requireInRange('timeS', timeS, { unit: 's', min: 0 });
  return Math.exp((-Math.PI / 4) * (t / requirePositive('meanLengthS', meanLengthS, 's')) ** 2);
}

/** Chance that a lull lasts longer than a time, if lulls had no memory: exp(-t/mean). */
export function lullOutlastsExponential(timeS: number, meanLengthS: number): number {
  const t = requireInRange('timeS', timeS, { unit: 's', min: 0 });
  return Math.exp(-t / requirePositive('meanLengthS', meanLengthS, 's'));
}

/**
 * Standard normal quantile, Phi^-1(P).
 *
 * @param probability P, 0 to 1, both excluded
 * @returns z [1]; relative error below 1.2e-9
 * @throws DomainError outside the range
 * @source Acklam 2003, rational approximation
 */
export function standardNormalQuantile(probability: number): number {
  const p = requireInRange('probability', probability, {
    what: 'a probability',
    min: 0,
    max: 1,
    minExclusive: true,
    maxExclusive: true,
  });
  if (p < 0.02425) return tail(Math.sqrt(-2 * Math.log(p)));
  if (p > 1 - 0.02425) return -tail(Math.sqrt(-2 * Math.log1p(-p)));
  const q = p - 0.5;
  const r = q * q;
  const a = [
    -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716,
    2.506628277459239,
  ];
  const b = [
    -54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572, 1,
  ];
  return (horner(a, r) * q) / horner(b, r);
}

function tail(q: number): number {
  const c = [
    -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
  ];
  const d = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416, 1];
  return horner(c, q) / horner(d, q);
}

function horner(coefficients: readonly number[], x: number): number {
  return coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0);
}
