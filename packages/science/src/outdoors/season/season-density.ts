/** How likely each day of the year is, from the days on which a species was seen. */
import { DomainError, requirePositive } from '../../domain-error.ts';
import { angleOfDay, daysOfCircle } from './day-of-year.ts';

/**
 * The modified Bessel function I0, scaled: exp(-x) I0(x).
 *
 * @param x [1], at least 0
 * @accuracy relative error below 2e-7
 * @source Abramowitz and Stegun 1964, 9.8.1 and 9.8.2
 */
export function besselI0Scaled(x: number): number {
  if (x < 3.75) {
    const y = (x / 3.75) ** 2;
    const series = [0.0045813, 0.0360768, 0.2659732, 1.2067492, 3.0899424, 3.5156229, 1];
    return Math.exp(-x) * series.reduce((sum, c) => sum * y + c, 0);
  }
  const y = 3.75 / x;
  const series = [
    0.00392377, -0.01647633, 0.02635537, -0.02057706, 0.00916281, -0.00157565, 0.00225319, 0.01328592,
    0.39894228,
  ];
  return series.reduce((sum, c) => sum * y + c, 0) / Math.sqrt(x);
}

/** Concentration of the kernel whose spread is a number of days: kappa = 1 / sigma², sigma in rad. */
export function kappaOfSpread(spreadDays: number): number {
  return 1 / ((2 * Math.PI * requirePositive('spreadDays', spreadDays, 'days')) / daysOfCircle) ** 2;
}

/**
 * Density over the day of the year by a von Mises kernel.
 *
 *   f(t) = mean of exp[kappa cos(t - ti)] / (2 pi I0(kappa)), times 2 pi / 365 per day
 *
 * Presence only: it tells when people looked as much as when the species was out, and records crowd at weekends and
 * at the peak.
 *
 * @param daysOfYear days seen, 1 to 366, at least one
 * @param kappa concentration of the kernel [1], above 0; about 1 / sigma² with sigma in rad
 * @param dayOfYear where to read the density
 * @returns [per day]; sums to 1 over the year
 * @throws DomainError if there is no day, or an argument is out of range
 * @source Taylor 2008, Comput. Stat. Data Anal. 52, 3493 (kernel on a circle)
 */
export function seasonDensity(daysOfYear: readonly number[], kappa: number, dayOfYear: number): number {
  if (daysOfYear.length === 0) throw new DomainError('outOfRange', 'at least one day', 'daysOfYear', 0);
  const k = requirePositive('kappa', kappa);
  const t = angleOfDay(dayOfYear);
  const scale = daysOfCircle * besselI0Scaled(k);
  const sum = daysOfYear.reduce((total, day) => total + Math.exp(k * (Math.cos(t - angleOfDay(day)) - 1)), 0);
  return sum / daysOfYear.length / scale;
}
