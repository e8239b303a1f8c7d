/** When a season begins and ends, estimated beyond the first and last day on which anybody looked. */
import { DomainError, requireInRange } from '../../domain-error.ts';

/** An end of a season with its confidence interval; or that the days are too few to tell. */
export type SeasonEnd =
  | {
      readonly kind: 'estimated';
      readonly day: number;
      /** Nearer to the records. */
      readonly nearDay: number;
      /** Farther from the records. */
      readonly farDay: number;
    }
  | { readonly kind: 'tooFew' };

/**
 * The beginning or the end of a season from the days on which it was seen, by the shape of the tail of the extremes.
 *
 *   v = 1/(k-1) sum_{i=2}^{k-1} ln[(x1 - xk)/(x1 - xi)]
 *   Lambda_ij = Gamma(2v+i) Gamma(v+j) / [Gamma(v+i) Gamma(j)] for j <= i, symmetric
 *   weights = (e' Lambda^-1 e)^-1 Lambda^-1 e;  estimate = sum w x
 *   interval: x1 + (x1 - xk)/(S - 1), S = (-ln(1 - alpha/2)/k)^-v and (-ln(alpha/2)/k)^-v
 *
 * Repeats of the extreme are left out of v; fewer than three different days give nothing. Assumes that the days seen
 * come from one season; days on both sides of the new year must be counted on from one side by the caller.
 *
 * @param days days seen, in any order; numbers may go past 365 or below 1
 * @param end which end
 * @param coverage share of the interval [0..1], 0.95 as published
 * @throws DomainError if a day is not finite or the coverage is none
 * @source Pearse et al. 2017, Nature Ecol. Evol. 1, 1876, after Roberts and Solow 2003, Nature 426, 245
 */
export function seasonEnd(days: readonly number[], end: 'onset' | 'end', coverage = 0.95): SeasonEnd {
  const alpha =
    1 - requireInRange('coverage', coverage, { min: 0, max: 1, minExclusive: true, maxExclusive: true });
  const sign = end === 'end' ? 1 : -1;
  const x = days
    .map((day) => sign * requireInRange('day', day, { what: 'a day', min: -1e6, max: 1e6 }))
    .sort((one, other) => other - one);
  if (new Set(x).size < 3) return { kind: 'tooFew' };
  const k = x.length;
  const [first, last] = [x[0]!, x[k - 1]!];
  const logs = x.slice(1, k - 1).filter((xi) => xi < first);
  const v = logs.reduce((sum, xi) => sum + Math.log((first - last) / (first - xi)), 0) / (k - 1);
  if (!(v > 0)) return { kind: 'tooFew' };
  const weights = weightsOf(v, k);
  const estimate = x.reduce((sum, xi, i) => sum + weights[i]! * xi, 0);
  const bound = (tail: number) => first + (first - last) / ((-Math.log(tail) / k) ** -v - 1);
  const [near, far] = [bound(1 - alpha / 2), bound(alpha / 2)];
  if (![estimate, near, far].every(Number.isFinite)) return { kind: 'tooFew' };
  return { kind: 'estimated', day: sign * estimate, nearDay: sign * near, farDay: sign * far };
}

/** Lambda^-1 e, scaled to sum 1. Entries are scaled by their diagonal first, since the gammas grow fast. */
function weightsOf(v: number, k: number): number[] {
  const entry = (i: number, j: number) =>
    logGamma(2 * v + i) + logGamma(v + j) - logGamma(v + i) - logGamma(j);
  const half = Array.from({ length: k }, (_, i) => entry(i + 1, i + 1) / 2);
  const rows = Array.from({ length: k }, (_, i) => [
    ...Array.from({ length: k }, (_, j) =>
      Math.exp(entry(Math.max(i, j) + 1, Math.min(i, j) + 1) - half[i]! - half[j]!),
    ),
    Math.exp(-half[i]!),
  ]);
  const solved = solve(rows).map((value, i) => value * Math.exp(-half[i]!));
  const sum = solved.reduce((total, value) => total + value, 0);
  return solved.map((value) => value / sum);
}

/** Gauss with partial pivoting on an augmented matrix, changed in place. */
function solve(rows: number[][]): number[] {
  const n = rows.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    for (let row = column + 1; row < n; row++) {
      const share = rows[row]![column]! / rows[column]![column]!;
      for (let i = column; i <= n; i++) rows[row]![i]! -= share * rows[column]![i]!;
    }
  }
  const found = new Array<number>(n).fill(0);
  for (let row = n - 1; row >= 0; row--) {
    let rest = rows[row]![n]!;
    for (let i = row + 1; i < n; i++) rest -= rows[row]![i]! * found[i]!;
    found[row] = rest / rows[row]![row]!;
  }
  return found;
}

/** ln Gamma(x) for x above 0. Lanczos 1964, g = 7, nine terms; within 1e-13 relative. */
function logGamma(x: number): number {
  const terms = [
    676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
    -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
  ];
  if (!(x > 0)) throw new DomainError('outOfRange', 'a number above 0', 'x', x);
  const y = x - 1;
  const sum = terms.reduce((total, term, i) => total + term / (y + i + 1), 0.9999999999998099);
  const t = y + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (y + 0.5) * Math.log(t) - t + Math.log(sum);
}
