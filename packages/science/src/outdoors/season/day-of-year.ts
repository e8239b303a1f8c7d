/** Days of the year as points on a circle, so that December and January lie side by side. */
import { DomainError, requireInRange } from '../../domain-error.ts';

/** Days that the circle has. Leap years' last day falls together with the first of January, which costs nothing here. */
export const daysOfCircle = 365;

/** The angle of a day's middle: t = 2 pi (d - 0.5) / 365. Days beyond 365 go on round. */
export function angleOfDay(dayOfYear: number): number {
  const d = requireInRange('dayOfYear', dayOfYear, { what: 'a day', min: -366, max: 732 });
  return (2 * Math.PI * (d - 0.5)) / daysOfCircle;
}

/** How far a day lies after another on the circle [days], -182.5 to 182.5. */
export function daysAfter(dayOfYear: number, reference: number): number {
  const apart = (((dayOfYear - reference) % daysOfCircle) + daysOfCircle) % daysOfCircle;
  return apart > daysOfCircle / 2 ? apart - daysOfCircle : apart;
}

/** Where days of the year lie, and how far they are spread. */
export interface CircularDays {
  /** Circular mean [day of year], above 0.5, at most 365.5. */
  readonly meanDay: number;
  /** R, length of the mean vector [0..1]: 1 all on one day, 0 spread over the year. */
  readonly concentration: number;
  /** sqrt(-2 ln R) [days]; null where the days are so spread that R is 0. */
  readonly spreadDays: number | null;
}

/**
 * Mean and spread of days of the year on the circle.
 *
 *   mean = atan2(mean sin t, mean cos t);  R = |mean vector|;  SD = sqrt(-2 ln R)
 *
 * @param daysOfYear 1 to 366, at least one
 * @throws DomainError if there is none, or one is out of range
 * @source Mardia and Jupp 2000, Directional Statistics, sections 2.2 and 2.3
 */
export function circularDays(daysOfYear: readonly number[]): CircularDays {
  if (daysOfYear.length === 0) throw new DomainError('outOfRange', 'at least one day', 'daysOfYear', 0);
  let [sine, cosine] = [0, 0];
  for (const day of daysOfYear) {
    const t = angleOfDay(day);
    sine += Math.sin(t) / daysOfYear.length;
    cosine += Math.cos(t) / daysOfYear.length;
  }
  const R = Math.min(1, Math.hypot(sine, cosine));
  const turn = Math.atan2(sine, cosine) / (2 * Math.PI);
  const meanDay = (turn <= 0 ? turn + 1 : turn) * daysOfCircle + 0.5;
  const spread = R < 1e-12 ? null : (Math.sqrt(-2 * Math.log(R)) * daysOfCircle) / (2 * Math.PI);
  return { meanDay, concentration: R, spreadDays: spread };
}
