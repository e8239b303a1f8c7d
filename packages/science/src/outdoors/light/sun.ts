/** Where the sun stands. */
import { Body, Equator, MakeTime, Observer, SiderealTime } from 'astronomy-engine';
import { requireFinite } from '../../domain-error.ts';
import { pressureAtAltitudeKpa } from '../damp/humidity.ts';
import { requirePlace, type PlaceOnEarth } from '../place-on-earth.ts';
import { lowestRefractedAltitudeDeg, refractionSaemundsson1986, type AirAtObserver } from './refraction.ts';

const degree = Math.PI / 180;
const dayMs = 86_400_000;
/** 2000-01-01 12:00 UTC as Unix time [ms]. */
const j2000Ms = 946_728_000_000;

/** Days since J2000.0, as the astronomy library counts them. */
export function daysSinceJ2000(timeMs: number): number {
  return (requireFinite('timeMs', timeMs, 'ms') - j2000Ms) / dayMs;
}

/** Where the sun stands, seen from a place on the Earth. Angles in degrees. */
export interface SunPosition {
  /** Of the centre, geometric: without refraction [°, -90 to 90]. */
  readonly altitudeDeg: number;
  /** Of the centre, lifted by refraction; the same as `altitudeDeg` below -1°. */
  readonly apparentAltitudeDeg: number;
  /** From north, clockwise [°, 0 to 360). */
  readonly azimuthDeg: number;
  /** Local hour angle, west positive [°, -180 to 180). */
  readonly hourAngleDeg: number;
  /** Topocentric, of date [°, 0 to 360). */
  readonly rightAscensionDeg: number;
  /** Topocentric, of date [°]. */
  readonly declinationDeg: number;
  /** [au]. */
  readonly distanceAu: number;
}

/**
 * Altitude and azimuth from hour angle and declination.
 *
 *   sin h = sin phi sin dec + cos phi cos dec cos H
 *   az = 180 + atan2(sin H, cos H sin phi - tan dec cos phi)
 *
 * @param at.hourAngleDeg H [°], west positive
 * @param at.declinationDeg dec [°], -90 to 90
 * @param at.latitudeDeg phi [°], -90 to 90
 * @returns altitude [°] without refraction; azimuth from north, clockwise [°, 0 to 360)
 * @source Meeus 1998, eqs 13.5 and 13.6
 */
export function horizontalFromHourAngle(at: {
  readonly hourAngleDeg: number;
  readonly declinationDeg: number;
  readonly latitudeDeg: number;
}): { readonly altitudeDeg: number; readonly azimuthDeg: number } {
  const H = at.hourAngleDeg * degree;
  const dec = at.declinationDeg * degree;
  const phi = at.latitudeDeg * degree;
  const sinH = Math.sin(phi) * Math.sin(dec) + Math.cos(phi) * Math.cos(dec) * Math.cos(H);
  const az =
    180 +
    Math.atan2(
      Math.sin(H) * Math.cos(dec),
      Math.cos(H) * Math.sin(phi) * Math.cos(dec) - Math.sin(dec) * Math.cos(phi),
    ) /
      degree;
  return { altitudeDeg: Math.asin(Math.max(-1, Math.min(1, sinH))) / degree, azimuthDeg: az % 360 };
}

/**
 * Where the sun stands at an instant, seen from a place.
 *
 * The centre of the disc, topocentric. Refraction after Saemundsson in the air given, or in air of 10 °C at the mean
 * pressure of the altitude; none is added below a geometric altitude of -1°, so use `altitudeDeg` for twilight.
 *
 * @param at.timeMs Unix time [ms]
 * @param at.latitudeDeg [°], -90 to 90
 * @param at.longitudeDeg [°], -180 to 180, east positive
 * @param at.altitudeM above sea level [m]
 * @param air pressure and temperature at the observer
 * @throws DomainError if an argument is out of range or not finite
 * @accuracy altitude and azimuth within 0.01° of an ephemeris, 1900 to 2100; UT1 is taken as UTC
 * @source Meeus 1998, chapter 13; apparent place from astronomy-engine (VSOP87, nutation, aberration)
 */
export function sunPosition(
  at: PlaceOnEarth & { readonly timeMs: number },
  air?: AirAtObserver,
): SunPosition {
  requirePlace(at);
  // One time object, so that the library works out nutation once.
  const time = MakeTime(daysSinceJ2000(at.timeMs));
  const seen = Equator(
    Body.Sun,
    time,
    new Observer(at.latitudeDeg, at.longitudeDeg, at.altitudeM),
    true,
    true,
  );
  const rightAscensionDeg = seen.ra * 15;
  const hourAngleDeg = halfTurn(SiderealTime(time) * 15 + at.longitudeDeg - rightAscensionDeg);
  const { altitudeDeg, azimuthDeg } = horizontalFromHourAngle({
    hourAngleDeg,
    declinationDeg: seen.dec,
    latitudeDeg: at.latitudeDeg,
  });
  return {
    altitudeDeg,
    apparentAltitudeDeg: apparentAltitude(altitudeDeg, at.altitudeM, air),
    azimuthDeg,
    hourAngleDeg,
    rightAscensionDeg,
    declinationDeg: seen.dec,
    distanceAu: seen.dist,
  };
}

function apparentAltitude(altitudeDeg: number, altitudeM: number, given: AirAtObserver | undefined): number {
  if (altitudeDeg < lowestRefractedAltitudeDeg) return altitudeDeg;
  const air = given ?? { pressureHpa: 10 * pressureAtAltitudeKpa(altitudeM), temperatureC: 10 };
  return Math.min(90, altitudeDeg + refractionSaemundsson1986(altitudeDeg, air) / 60);
}

/** The same angle from -180 (included) to 180 (not included). */
function halfTurn(angleDeg: number): number {
  return ((((angleDeg + 180) % 360) + 360) % 360) - 180;
}
