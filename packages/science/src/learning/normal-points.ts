/** Evenly spread points of a normal distribution in several dimensions, for means over what is not known exactly. */
import { standardNormalQuantile } from '../outdoors/wind/lull.ts';
import { choleskyOf, type Matrix } from './positive-definite.ts';

const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19] as const;

/**
 * Halton's points as normal ones: the same at each call, and nearer to even than drawn ones.
 *
 * @param mean one a dimension, at most eight
 * @param covariance of them, positive semi-definite; a dimension without variance stays at its mean
 * @param count how many points
 * @source Halton 1960, Numer. Math. 2, 84 (from memory)
 */
export function normalPoints(mean: readonly number[], covariance: Matrix, count: number): number[][] {
  const n = mean.length;
  const safe = covariance.map((row, i) => row.map((value, j) => (i === j ? value + 1e-9 : value)));
  const L =
    choleskyOf(safe) ?? safe.map((row, i) => row.map((v, j) => (i === j ? Math.sqrt(Math.max(v, 0)) : 0)));
  return Array.from({ length: count }, (_, k) => {
    const z = Array.from({ length: n }, (_, d) =>
      standardNormalQuantile(radicalInverse(k + 1, PRIMES[d] ?? 2)),
    );
    return mean.map((m, i) => L[i]!.reduce((sum, l, j) => (j <= i ? sum + l * z[j]! : sum), m));
  });
}

/** The digits of k in a base, mirrored behind the point. */
function radicalInverse(k: number, base: number): number {
  let value = 0;
  let share = 1 / base;
  for (let rest = k; rest > 0; rest = Math.floor(rest / base), share /= base) value += (rest % base) * share;
  return value;
}
