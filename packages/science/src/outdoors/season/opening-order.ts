/** One species seen to open dates the next: the order is steadier than the dates. */
import { requireInRange } from '../../domain-error.ts';

/** A pair of species in one year: the days on which each was first seen open. */
export interface OpeningPair {
  readonly year: number;
  /** Of the one that was seen this year [day of year]. */
  readonly earlierDay: number;
  /** Of the one to be dated [day of year]. */
  readonly laterDay: number;
}

/** When the second should open, from the first. */
export interface DatedOpening {
  readonly day: number;
  /** Half the width of the band that holds about two in three [days]. */
  readonly spreadDays: number;
  /** Years behind it. */
  readonly years: number;
}

/** Spread of a lag that was seen in one year only, and least spread that is ever told [days]. Ours. */
const spreadOfOneYearDays = 7;
const leastSpreadDays = 2;

/**
 * When one species should open, given that another opened this year on a day: that day and the mean lag of the years
 * in which both were seen. The spread is that of the lags, with that of the mean added; with few years it is drawn
 * towards a week (as if one further year had shown that).
 *
 * @param openedDay the day on which the first was seen open this year
 * @param pairs years in which both were dated
 * @returns the dated opening, or that no year has both
 * @throws DomainError if a day is out of range
 * @source prediction interval of a mean, textbook; the week is ours
 */
export function openingByNeighbour(
  openedDay: number,
  pairs: readonly OpeningPair[],
): ({ readonly kind: 'dated' } & DatedOpening) | { readonly kind: 'neverTogether' } {
  const range = { what: 'a day of the year', min: 1, max: 366 };
  requireInRange('openedDay', openedDay, range);
  if (pairs.length === 0) return { kind: 'neverTogether' };
  const lags = pairs.map(
    ({ earlierDay, laterDay }) =>
      requireInRange('laterDay', laterDay, range) - requireInRange('earlierDay', earlierDay, range),
  );
  const n = lags.length;
  const mean = lags.reduce((sum, lag) => sum + lag, 0) / n;
  const squares = lags.reduce((sum, lag) => sum + (lag - mean) ** 2, 0);
  const variance = (squares + spreadOfOneYearDays ** 2) / n;
  const spreadDays = Math.max(leastSpreadDays, Math.sqrt(variance * (1 + 1 / n)));
  return { kind: 'dated', day: openedDay + mean, spreadDays, years: n };
}
