/** How far a season moves with altitude and latitude. */
import { requireInRange, requirePositive } from '../../domain-error.ts';

/** Published rates [days later]. */
export const hopkinsRates = { perDegreePoleward: 4, perMetreUp: 4 / 121.92 } as const;

/**
 * Published slope of the season with altitude in the Alps [days later per m]: 34 days per km about 1960, 22 now. It
 * shrinks, so the newer stands.
 *
 * @source Vitasse, Signarbieux and Fu 2018, PNAS 115, 1004
 */
export const vitasseDaysPerMetre = { about1960: 0.034, now: 0.022 } as const;

/** Where one place lies against another. */
export interface PlaceShift {
  /** How far nearer to the pole [°]; negative: nearer to the equator. */
  readonly polewardDeg: number;
  /** How far higher [m]; negative: lower. */
  readonly higherM: number;
}

/**
 * Days by which spring comes later at another place: 4 a degree poleward, and 4 per 400 ft up.
 *
 * Hopkins's third term, by longitude, is left out: it is of North America, and sources differ in its direction.
 * Late-summer events move the other way or not at all; the rule is one of spring.
 *
 * @returns [days], positive later
 * @throws DomainError if an argument is out of range
 * @source Hopkins 1918, Mon. Weather Rev. suppl. 9
 */
export function hopkinsShiftDays(shift: PlaceShift): number {
  return placeShiftDays(shift, hopkinsRates.perMetreUp);
}

/**
 * As `hopkinsShiftDays`, with another slope by altitude.
 *
 * @param daysPerMetre [days/m], above 0; see `vitasseDaysPerMetre`
 */
export function placeShiftDays(shift: PlaceShift, daysPerMetre: number): number {
  const degrees = requireInRange('polewardDeg', shift.polewardDeg, { unit: 'degrees', min: -90, max: 90 });
  const metres = requireInRange('higherM', shift.higherM, { unit: 'm', min: -9500, max: 9500 });
  return (
    hopkinsRates.perDegreePoleward * degrees + requirePositive('daysPerMetre', daysPerMetre, 'd/m') * metres
  );
}

/**
 * Days by which a season is late or early this year, from accumulated warmth.
 *
 * The day on which this year's sum of warmth reaches what a usual year has reached on the day in question: the two
 * sums are compared as curves, so neither needs a threshold for the species.
 *
 * @param usual degree days summed from the start of the year, one entry a day, never falling [K d]
 * @param thisYear the same for this year, as far as it is known, never longer than `usual`
 * @returns days late (positive) or early, at the last day known; or that there is no warmth yet to compare
 */
export function warmthShiftDays(
  usual: readonly number[],
  thisYear: readonly number[],
): { readonly kind: 'shifted'; readonly daysLater: number } | { readonly kind: 'noWarmthYet' } {
  const today = thisYear.length - 1;
  const sum = thisYear[today];
  if (sum === undefined || sum <= 0 || usual.length === 0) return { kind: 'noWarmthYet' };
  const day = usual.findIndex((usually) => usually >= sum);
  if (day < 0) return { kind: 'shifted', daysLater: today - (usual.length - 1) };
  const [here, before] = [usual[day]!, day === 0 ? 0 : usual[day - 1]!];
  const part = here > before ? (sum - before) / (here - before) : 1;
  return { kind: 'shifted', daysLater: today - (day - 1 + part) };
}
