/** The normal distribution. */

/**
 * Phi(x), the chance that a standard normal variable lies below x: its series inside 3, its continued fraction
 * outside; twelve decimals.
 *
 * @param x any number; infinities give 0 and 1
 * @returns 0 to 1
 * @source Abramowitz & Stegun, Handbook of Mathematical Functions, 26.2.10 and 26.2.14
 */
export function normalDistribution(x: number): number {
  const a = Math.abs(x);
  if (a > 38) return x > 0 ? 1 : 0;
  const density = Math.exp((-a * a) / 2) / Math.sqrt(2 * Math.PI);
  if (a < 3) {
    let term = x;
    let sum = x;
    for (let n = 1; n < 80; n++) {
      term *= (x * x) / (2 * n + 1);
      sum += term;
    }
    return 0.5 + density * sum;
  }
  let fraction = a;
  for (let n = 120; n >= 1; n--) fraction = a + n / fraction;
  const tail = density / fraction;
  return x > 0 ? 1 - tail : tail;
}
