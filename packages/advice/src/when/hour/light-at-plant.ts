/** The light at a plant in one hour: sun over the horizon or not, how bright, how soft, side against side. */
import type { ForecastInstant } from '@tepal/formats';
import {
  horizonAltitudeDeg,
  horizontalFromHourAngle,
  lightUnderHorizon,
  lowestSunForRadiationDeg,
  skyLight,
  skyLightOfRadiation,
  sunPosition,
  uprightLight,
  type CloudCover,
  type HorizonProfile,
  type SkyLight,
  type UprightLight,
} from '@tepal/science';
import type { PlantPlace } from '../place.ts';

/** Geometric altitude at which the sun's rim appears over a level horizon [°]. */
const riseAltitudeDeg = -0.8333;

export interface SunHere {
  /** Geometric [°]. */
  readonly altitudeDeg: number;
  /** With refraction [°]. */
  readonly apparentAltitudeDeg: number;
  /** From north, clockwise [°]. */
  readonly azimuthDeg: number;
  /** Altitude of the horizon in the sun's direction [°]; 0 where it is open. */
  readonly horizonDeg: number;
  /** Whether the sun's centre stands above that horizon; over an open one, whether its rim does. */
  readonly clearsHorizon: boolean;
  /** 12 when the sun stands highest [h, 0 to 24). */
  readonly solarTimeH: number;
  /** Geometric altitude half an hour on [°]: of the middle of the hour that follows. */
  readonly halfHourOnDeg: number;
}

/** The sun at a place with a horizon. */
export function sunHere(place: PlantPlace, horizon: HorizonProfile | null, timeMs: number): SunHere {
  const sun = sunPosition({ ...place, timeMs });
  const { altitudeDeg, apparentAltitudeDeg, azimuthDeg, hourAngleDeg, declinationDeg } = sun;
  const later = { hourAngleDeg: hourAngleDeg + 7.5, declinationDeg, latitudeDeg: place.latitudeDeg };
  const horizonDeg = horizon === null ? 0 : Math.max(0, horizonAltitudeDeg(horizon, azimuthDeg));
  return {
    altitudeDeg,
    apparentAltitudeDeg,
    azimuthDeg,
    horizonDeg,
    clearsHorizon: horizonDeg > 0 ? apparentAltitudeDeg > horizonDeg : altitudeDeg > riseAltitudeDeg,
    solarTimeH: (hourAngleDeg / 15 + 36) % 24,
    halfHourOnDeg: horizontalFromHourAngle(later).altitudeDeg,
  };
}

export interface LightHere {
  /** At the plant, under its horizon. */
  readonly here: SkyLight;
  readonly sides: UprightLight;
  /** What it was worked out from. */
  readonly from: 'radiation' | 'cloud';
}

/** What the light hangs on besides the forecast. */
export interface LightPlace {
  readonly sun: SunHere;
  /** Share of the sky that is open [0..1]. */
  readonly openSky: number;
  /** 1 to 366. */
  readonly dayOfYear: number;
  /** [°C]; null where not known: then air of 10 °C dew point stands in, which changes it by a few per cent. */
  readonly dewPointC: number | null;
}

/**
 * The light at the plant; null where the forecast gives neither cloud nor radiation.
 *
 * Forecast radiation goes before cloud, with the sun at least 5° high half an hour on: it is the mean of
 * the time that follows, and is split with the sun of its middle.
 */
export function lightAtPlant(instant: ForecastInstant, place: LightPlace): LightHere | null {
  const { sun, openSky, dayOfYear } = place;
  const dewPointC = Math.min(40, Math.max(-60, place.dewPointC ?? 10));
  const cloud = cloudOf(instant);
  const radiationWm2 = instant.radiationWm2;
  const byRadiation = radiationWm2 !== null && sun.halfHourOnDeg >= lowestSunForRadiationDeg;
  if (!byRadiation && cloud === null) return null;
  const open = byRadiation
    ? skyLightOfRadiation({ radiationWm2, sunAltitudeDeg: sun.halfHourOnDeg, dewPointC })
    : skyLight({ sunAltitudeDeg: sun.altitudeDeg, dayOfYear, cloud: cloud ?? { total: 1 }, dewPointC });
  // Over an open horizon the model itself brings the sun's share down to nothing at the horizon.
  const sunClears = sun.horizonDeg > 0 ? sun.clearsHorizon : true;
  const here = openSky === 1 && sunClears ? open : lightUnderHorizon(open, { openSky, sunClears });
  return {
    here,
    sides: uprightLight({ ...here, sunAltitudeDeg: sun.altitudeDeg }),
    from: byRadiation ? 'radiation' : 'cloud',
  };
}

/** Cloud by layer where all are given, else in all; fog counts as low cloud. */
function cloudOf(instant: ForecastInstant): CloudCover | null {
  const { cloudLowShare: low, cloudMediumShare: medium, cloudHighShare: high, cloudShare: total } = instant;
  const fog = instant.fogShare ?? instant.fogProbability ?? 0;
  if (low !== null && medium !== null && high !== null) return { low: Math.max(low, fog), medium, high };
  return total === null ? null : { total: Math.max(total, fog) };
}
