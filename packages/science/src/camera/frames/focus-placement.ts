/** Where a swaying photographer puts the plane of focus. */
import { requireFinite, requireInteger, requireNotNegative } from '../../domain-error.ts';
import { normalDistribution } from './normal.ts';

/**
 * Chance that the point lies within the depth of field: Phi((T/2 - b)/sigma) - Phi((-T/2 - b)/sigma).
 *
 * @param depthMm T [mm], >= 0
 * @param spreadMm sigma of the placement [mm], >= 0
 * @param biasMm b [mm]
 * @returns 0 to 1
 * @throws DomainError
 */
export function chanceInFocus(depthMm: number, spreadMm: number, biasMm = 0): number {
  const T = requireNotNegative('depthMm', depthMm, 'mm');
  const sigma = requireNotNegative('spreadMm', spreadMm, 'mm');
  const b = requireFinite('biasMm', biasMm, 'mm');
  if (!(sigma > 0)) return Math.abs(b) <= T / 2 ? 1 : 0;
  return normalDistribution((T / 2 - b) / sigma) - normalDistribution((-T / 2 - b) / sigma);
}

/**
 * Chance that n frames, placed evenly at random, hit all k slices of a depth: sum of (-1)^j C(k, j)(1 - j/k)^n. Real
 * placements are normal, so the edges are harder than this.
 *
 * @param slices k, 1 to 20: beyond that the alternating sum loses its digits
 * @throws DomainError
 */
export function chanceAllSlices(slices: number, frames: number): number {
  const k = requireInteger('slices', slices, { min: 1, max: 20 });
  const n = requireInteger('frames', frames, { min: 0 });
  if (n < k) return 0;
  let sum = 0;
  let binomial = 1;
  for (let j = 0; j <= k; j++) {
    sum += (j % 2 === 0 ? 1 : -1) * binomial * (1 - j / k) ** n;
    binomial *= (k - j) / (j + 1);
  }
  return Math.min(1, Math.max(0, sum));
}

/** Frames expected until all k slices are hit: k (1 + 1/2 + ... + 1/k). @throws DomainError */
export function framesForAllSlices(slices: number): number {
  const k = requireInteger('slices', slices, { min: 1 });
  let sum = 0;
  for (let j = 1; j <= k; j++) sum += 1 / j;
  return k * sum;
}
