/** Warmth that a day adds for what grows, from its lowest and highest temperature. */
import { DomainError, requireInRange } from '../../domain-error.ts';

/** A day's extremes, and the bounds between which warmth counts. */
export interface DayWarmth {
  /** Lowest temperature of the day [°C]. */
  readonly lowestC: number;
  /** Highest temperature of the day [°C], at least the lowest. */
  readonly highestC: number;
  /** L, below which nothing grows [°C]. */
  readonly baseC: number;
}

function checked({ lowestC, highestC, baseC }: DayWarmth) {
  const range = { what: 'a temperature', unit: '°C', min: -100, max: 150 };
  const Tmin = requireInRange('lowestC', lowestC, range);
  const Tmax = requireInRange('highestC', highestC, range);
  if (Tmax < Tmin)
    throw new DomainError('wrongOrder', `a temperature of at least ${Tmin} °C`, 'highestC', Tmax);
  return { Tmin, Tmax, L: requireInRange('baseC', baseC, range) };
}

/** Degree days by averaging: max(0, (Tmax + Tmin)/2 - L) [K d]. @throws DomainError */
export function degreeDaysAverage(day: DayWarmth): number {
  const { Tmin, Tmax, L } = checked(day);
  return Math.max(0, (Tmax + Tmin) / 2 - L);
}

/**
 * Degree days by averaging after both extremes were brought between L and U.
 *
 * @param upperC U, above which more warmth adds nothing [°C], at least L
 * @returns [K d]
 * @throws DomainError
 */
export function degreeDaysModifiedAverage(day: DayWarmth, upperC: number): number {
  const { Tmin, Tmax, L } = checked(day);
  const U = requireInRange('upperC', upperC, { what: 'a temperature', unit: '°C', min: L, max: 150 });
  const between = (T: number) => Math.min(U, Math.max(L, T));
  return degreeDaysAverage({ lowestC: between(Tmin), highestC: between(Tmax), baseC: L });
}

/**
 * Degree days under a sine through the day's extremes.
 *
 *   M = (Tmax + Tmin)/2, W = (Tmax - Tmin)/2
 *   L <= Tmin: M - L;  L >= Tmax: 0;  else theta = asin((L - M)/W), [(M - L)(pi/2 - theta) + W cos theta] / pi
 *
 * theta in radians. With an upper bound the warmth above it is cut off: DD(L) - DD(U).
 *
 * @param upperC U [°C], at least L; null for none
 * @returns [K d]
 * @throws DomainError
 * @source Baskerville and Emin 1969, Ecology 50, 514
 */
export function degreeDaysSingleSine(day: DayWarmth, upperC: number | null = null): number {
  const { Tmin, Tmax, L } = checked(day);
  if (upperC !== null) {
    const U = requireInRange('upperC', upperC, { what: 'a temperature', unit: '°C', min: L, max: 150 });
    return degreeDaysSingleSine(day) - degreeDaysSingleSine({ ...day, baseC: U });
  }
  const M = (Tmax + Tmin) / 2;
  const W = (Tmax - Tmin) / 2;
  if (L <= Tmin) return M - L;
  if (L >= Tmax) return 0;
  const theta = Math.asin((L - M) / W);
  return ((M - L) * (Math.PI / 2 - theta) + W * Math.cos(theta)) / Math.PI;
}
