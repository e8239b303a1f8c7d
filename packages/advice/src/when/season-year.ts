/** How late or early this year is: by what has opened already, or by the warmth so far. */
import { degreeDaysSingleSine, openingByNeighbour, warmthShiftDays } from '@tepal/science';
import type { SeenOn } from './season-records.ts';
import { shiftTo, type SeasonPlace, type YearShift } from './season.ts';

/** The sightings of one subject. */
export interface SubjectSeen {
  readonly subjectId: string;
  /** As it is told: a common or scientific name. */
  readonly name: string;
  readonly seen: readonly SeenOn[];
}

/** Own first sighting of the year: an opening may have been days earlier. Ours [days]. */
const ownSpreadDays = 4;
/** Spread of what accumulated warmth tells of a season [days]. Ours. */
const warmthSpreadDays = 5;
/** Above this temperature plants grow [°C]. Common practice, no source. */
const growthBaseC = 5;

/** Days after which a southern year begins: 1 July, so that no summer is cut in two. */
const southernStartDays = 181;

/** A day of a year as the seasons of a hemisphere count it: the southern year begins in July and has its own number. */
export function seasonDay(
  day: { readonly year: number; readonly dayOfYear: number },
  latitudeDeg: number,
): { readonly year: number; readonly dayOfYear: number } {
  if (latitudeDeg >= 0) return day;
  const late = day.dayOfYear > southernStartDays;
  return {
    year: late ? day.year + 1 : day.year,
    dayOfYear: late ? day.dayOfYear - southernStartDays : day.dayOfYear + 365 - southernStartDays,
  };
}

/**
 * Sightings as they would be at a place: moved by altitude and latitude, counted in its hemisphere's years. Those of
 * the other hemisphere are left out.
 */
export function seenFrom(seen: readonly SeenOn[], place: SeasonPlace): SeenOn[] {
  return seen
    .filter(({ latitudeDeg }) => latitudeDeg === null || latitudeDeg * place.latitudeDeg >= 0)
    .map((one) => {
      const day = seasonDay(one, place.latitudeDeg);
      const moved = Math.round(day.dayOfYear + shiftTo(one, place));
      return { ...one, year: day.year, dayOfYear: Math.min(366, Math.max(1, moved)) };
    });
}

/** The first day on which a subject was seen, by year. */
export function firstDays(seen: readonly SeenOn[]): Map<number, number> {
  const first = new Map<number, number>();
  for (const { year, dayOfYear } of seen) first.set(year, Math.min(dayOfYear, first.get(year) ?? 367));
  return first;
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;

/**
 * How late this year is for a subject, by the order of opening: by its own first sighting this year, else by the
 * subject seen this year whose lag to it was steadiest in earlier years. Null where nothing was seen, or never both.
 *
 * First sightings are those of the days on which somebody looked: a rare visitor finds all late.
 *
 * @param all every subject's sightings as `seenFrom` gives them for one place, the one asked for among them
 * @param asOf year and day up to which this year's sightings count
 */
export function shiftByOrder(
  subjectId: string,
  all: readonly SubjectSeen[],
  asOf: { readonly year: number; readonly dayOfYear: number },
): YearShift | null {
  const own = all.find((subject) => subject.subjectId === subjectId);
  if (own === undefined) return null;
  const ownFirst = firstDays(own.seen);
  const earlier = [...ownFirst].filter(([year]) => year < asOf.year);
  if (earlier.length === 0) return null;
  const usual = mean(earlier.map(([, day]) => day));
  const seenNow = (first: Map<number, number>) => {
    const day = first.get(asOf.year);
    return day !== undefined && day <= asOf.dayOfYear ? day : undefined;
  };
  const today = seenNow(ownFirst);
  if (today !== undefined) {
    const daysLater = today - usual;
    return { daysLater, spreadDays: ownSpreadDays, why: `${inDays(daysLater)} by its own first sighting.` };
  }
  const dated = all.flatMap((other) => {
    const first = firstDays(other.seen);
    const opened = seenNow(first);
    if (other.subjectId === subjectId || opened === undefined) return [];
    const pairs = earlier.flatMap(([year, laterDay]) => {
      const earlierDay = first.get(year);
      return earlierDay === undefined ? [] : [{ year, earlierDay, laterDay }];
    });
    const found = openingByNeighbour(opened, pairs);
    return found.kind === 'dated' ? [{ ...found, name: other.name }] : [];
  });
  const best = dated.sort((one, other) => one.spreadDays - other.spreadDays)[0];
  if (best === undefined) return null;
  const daysLater = best.day - usual;
  const years = best.years === 1 ? '1 year' : `${best.years} years`;
  return {
    daysLater,
    spreadDays: best.spreadDays,
    why: `${inDays(daysLater)}, since ${best.name} is out: the lag of ${years}.`,
  };
}

/** One day's extremes [°C]; null where not known: such a day adds what the day before did. */
export type DayExtremes = { readonly lowestC: number; readonly highestC: number } | null;

/** Degree days above 5 °C summed from the first day on, one entry a day, by a single sine. */
export function warmthSums(days: readonly DayExtremes[]): number[] {
  let [sum, before] = [0, 0];
  return days.map((day) => {
    if (day !== null) before = degreeDaysSingleSine({ ...day, baseC: growthBaseC });
    sum += before;
    return sum;
  });
}

/**
 * How late this year is by its warmth so far against that of a usual year; null before there is any.
 *
 * @param usual sums of `warmthSums` over a usual year; @param thisYear the same for this year up to now
 */
export function shiftByWarmth(usual: readonly number[], thisYear: readonly number[]): YearShift | null {
  const found = warmthShiftDays(usual, thisYear);
  if (found.kind === 'noWarmthYet') return null;
  const { daysLater } = found;
  return { daysLater, spreadDays: warmthSpreadDays, why: `${inDays(daysLater)} by this year's warmth.` };
}

/** The surer of two, told apart by their spread; null where there is neither. */
export function surerShift(one: YearShift | null, other: YearShift | null): YearShift | null {
  if (one === null || other === null) return one ?? other;
  return one.spreadDays <= other.spreadDays ? one : other;
}

function inDays(daysLater: number): string {
  const days = Math.round(Math.abs(daysLater));
  if (days === 0) return 'As early as usual';
  return `About ${days === 1 ? '1 day' : `${days} days`} ${daysLater > 0 ? 'later' : 'earlier'} than usual`;
}
