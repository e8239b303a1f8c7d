/** When the sun rises, sets and passes the bounds of twilight. */
import { Body, Observer, SearchAltitude } from 'astronomy-engine';
import { DomainError, requireFinite, requireInRange } from '../../domain-error.ts';
import { requirePlace, type PlaceOnEarth } from '../place-on-earth.ts';
import { daysSinceJ2000, sunPosition } from './sun.ts';

/**
 * Geometric altitudes of the sun's centre that bound day and twilight [°]: rise and set over a flat horizon with 34'
 * of refraction and 16' of half disc; the three twilights by definition.
 */
export const sunAltitudeBoundsDeg = {
  riseAndSet: -0.8333,
  civilTwilight: -6,
  nauticalTwilight: -12,
  astronomicalTwilight: -18,
} as const;

export interface SunCrossing {
  /** Unix time [ms]. */
  readonly timeMs: number;
  readonly direction: 'rising' | 'setting';
}

/** The passages of one altitude within a day; or that there is none, and on which side the sun stays. */
export type SunCrossings =
  | { readonly kind: 'crosses'; readonly crossings: readonly SunCrossing[] }
  | { readonly kind: 'alwaysUp' }
  | { readonly kind: 'alwaysDown' };

/** A local day as an interval of time, end not included; the caller knows the time zone. */
export interface LocalDay {
  /** Unix time [ms]. */
  readonly startMs: number;
  /** Unix time [ms], after `startMs`, at most 32 days later. */
  readonly endMs: number;
}

const longestDayMs = 32 * 86_400_000;

/**
 * When the sun's centre passes a geometric altitude, within a local day.
 *
 * Any number of passages may fall in one local day: none in polar day or night, two of one kind where the sun sets
 * shortly after midnight and again before the next. They come in order of time.
 *
 * @param place.latitudeDeg [°], -90 to 90; longitudeDeg [°], -180 to 180; altitudeM [m] (the horizon stays flat)
 * @param day the local day
 * @param boundDeg geometric altitude of the centre [°], -90 to 90
 * @throws DomainError if an argument is out of range, or the day ends before it starts
 * @accuracy a few seconds in the model; over real land refraction leaves about a minute
 * @source NREL SPA (Reda and Andreas 2004) uses the same fixed -0.8333°
 */
export function sunCrossings(place: PlaceOnEarth, day: LocalDay, boundDeg: number): SunCrossings {
  requirePlace(place);
  requireInRange('boundDeg', boundDeg, { what: 'an altitude', unit: 'degrees', min: -90, max: 90 });
  requireFinite('startMs', day.startMs, 'ms');
  const length = requireFinite('endMs', day.endMs, 'ms') - day.startMs;
  if (!(length > 0 && length <= longestDayMs)) {
    throw new DomainError('wrongOrder', 'a time after startMs, by at most 32 days', 'endMs', day.endMs);
  }
  const crossings = [
    ...passages(place, day, boundDeg, 'rising'),
    ...passages(place, day, boundDeg, 'setting'),
  ];
  if (crossings.length > 0) {
    return { kind: 'crosses', crossings: crossings.sort((one, other) => one.timeMs - other.timeMs) };
  }
  const middleMs = day.startMs + length / 2;
  return sunPosition({ ...place, timeMs: middleMs }).altitudeDeg > boundDeg
    ? { kind: 'alwaysUp' }
    : { kind: 'alwaysDown' };
}

function passages(
  place: PlaceOnEarth,
  day: LocalDay,
  boundDeg: number,
  direction: SunCrossing['direction'],
): SunCrossing[] {
  // Height is left out on purpose: the bound is a geometric altitude, not a horizon seen from above.
  const observer = new Observer(place.latitudeDeg, place.longitudeDeg, 0);
  const found: SunCrossing[] = [];
  let fromMs = day.startMs;
  while (fromMs < day.endMs) {
    const limitDays = (day.endMs - fromMs) / 86_400_000;
    const at = SearchAltitude(
      Body.Sun,
      observer,
      direction === 'rising' ? 1 : -1,
      daysSinceJ2000(fromMs),
      limitDays,
      boundDeg,
    );
    const timeMs = at?.date.getTime();
    if (timeMs === undefined || timeMs >= day.endMs) break;
    if (timeMs >= fromMs) found.push({ timeMs, direction });
    fromMs = Math.max(timeMs, fromMs) + 60_000;
  }
  return found;
}

/** Rise and set, and the bounds of the three twilights, within a local day. */
export interface SunDay {
  readonly sun: SunCrossings;
  readonly civilTwilight: SunCrossings;
  readonly nauticalTwilight: SunCrossings;
  readonly astronomicalTwilight: SunCrossings;
}

/**
 * The sun's day at a place: rise and set, and where the twilights begin and end.
 *
 * @throws DomainError as `sunCrossings`
 */
export function sunDay(place: PlaceOnEarth, day: LocalDay): SunDay {
  return {
    sun: sunCrossings(place, day, sunAltitudeBoundsDeg.riseAndSet),
    civilTwilight: sunCrossings(place, day, sunAltitudeBoundsDeg.civilTwilight),
    nauticalTwilight: sunCrossings(place, day, sunAltitudeBoundsDeg.nauticalTwilight),
    astronomicalTwilight: sunCrossings(place, day, sunAltitudeBoundsDeg.astronomicalTwilight),
  };
}
