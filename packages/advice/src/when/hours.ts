/** Every instant of a forecast, brought down to a plant: sun, light, wind, lulls, air, drops, insects. */
import { formatInstant, type Forecast, type ForecastInstant, type WhenHour } from '@tepal/formats';
import {
  dewPointC,
  insectState,
  relativeHumidity,
  skyLight,
  sunPosition,
  type CloudCover,
  type InsectState,
  type SkyLight,
} from '@tepal/science';
import { dropsThrough, type HourOfDrops } from './drops.ts';
import { requirePlant, type PlantPlace } from './place.ts';
import {
  lullAtPlant,
  wayDown,
  windAtPlant,
  type LullHere,
  type WayDown,
  type WindHere,
} from './wind-at-plant.ts';

/** An hour of the document, with what the windows need beside it. */
export interface HourAtPlant extends WhenHour {
  readonly timeMs: number;
  /** log2 of all the light over the sky's alone [stops]; null where the light is not known. */
  readonly lightingRatioStops: number | null;
  /** Chance of rain in the interval that the forecast's amount is for [0..1]; null where not known. */
  readonly rainChance: number | null;
  /** Whether the air is stable: clear, sun low or down, light wind. */
  readonly stable: boolean;
}

/** Least amount that counts as rain for certain where no chance is given [mm]. */
const certainRainMm = 0.1;
/** Below this the sun leaves the air stable under a clear sky [°]. Pasquill's classes; from memory. */
const lowSunDeg = 10;

/**
 * The hours at a plant: one for every instant of the forecast, past ones too.
 *
 * What the forecast lacks is named in `missing`, and what hangs on it is null. Humidity and dew point stand in for
 * each other through the temperature. A lacking dew point alone leaves the light standing, for air of 10 °C dew
 * point: it changes it by a few per cent.
 *
 * @param place plant and place
 * @param forecast in order of time
 * @throws DomainError if the place is out of range
 */
export function hoursAtPlant(place: PlantPlace, forecast: Forecast): HourAtPlant[] {
  requirePlant(place);
  const ways = new Map<number, WayDown>();
  const wayFrom = (heightM: number) => {
    const known = ways.get(heightM);
    if (known !== undefined) return known;
    const made = wayDown(place, heightM);
    ways.set(heightM, made);
    return made;
  };
  const seen = forecast.instants.map((instant) => seenAt(place, instant, wayFrom(instant.windHeightM)));
  const drops = dropsThrough(seen.map(hourOfDrops));
  return seen.map((hour, i) => ({ ...documentHour(hour), drops: drops[i]! }));
}

interface Seen {
  readonly instant: ForecastInstant;
  readonly sun: { altitudeDeg: number; apparentAltitudeDeg: number; azimuthDeg: number };
  readonly light: SkyLight | null;
  readonly wind: WindHere | null;
  readonly lull: LullHere | null;
  readonly air: { temperatureC: number | null; relativeHumidity: number | null; dewPointC: number | null };
  readonly rainChance: number | null;
  readonly stable: boolean;
  readonly missing: string[];
}

function seenAt(place: PlantPlace, instant: ForecastInstant, way: WayDown): Seen {
  const { altitudeDeg, apparentAltitudeDeg, azimuthDeg } = sunPosition({ ...place, timeMs: instant.timeMs });
  const missing: string[] = [];
  const air = airOf(instant, missing);
  const cloud = cloudOf(instant);
  if (cloud === null) missing.push('cloudShare');
  const light =
    cloud === null
      ? null
      : skyLight({
          sunAltitudeDeg: altitudeDeg,
          dayOfYear: dayOfYear(instant.timeMs),
          cloud,
          dewPointC: Math.min(40, Math.max(-60, air.dewPointC ?? 10)),
        });
  const { windSpeedMs, windGustMs: gustMs } = instant;
  const stable = altitudeDeg < lowSunDeg && light !== null && light.cover < 0.5 && (windSpeedMs ?? 9) < 6;
  if (windSpeedMs === null) missing.push('windSpeedMs');
  if (gustMs === null) missing.push('windGustMs');
  const wind = windSpeedMs === null ? null : windAtPlant(way, { windSpeedMs, gustMs, stable });
  const rainChance = rainChanceOf(instant);
  if (rainChance === null) missing.push('precipitationMm');
  return {
    instant,
    sun: { altitudeDeg, apparentAltitudeDeg, azimuthDeg },
    light,
    wind,
    lull: wind === null ? null : lullAtPlant(wind.atPlantMs, way),
    air,
    rainChance,
    stable,
    missing,
  };
}

function airOf(instant: ForecastInstant, missing: string[]): Seen['air'] {
  const temperatureC = instant.airTemperatureC;
  const given = instant.relativeHumidity === null ? null : Math.min(1, Math.max(0, instant.relativeHumidity));
  const dew = instant.dewPointC;
  if (temperatureC === null) missing.push('airTemperatureC');
  if (given === null && dew === null) missing.push('relativeHumidity', 'dewPointC');
  if (temperatureC === null) return { temperatureC, relativeHumidity: given, dewPointC: dew };
  return {
    temperatureC,
    relativeHumidity: given ?? (dew === null ? null : relativeHumidity(temperatureC, dew)),
    dewPointC: dew ?? (given === null || given === 0 ? null : dewPointC(temperatureC, given)),
  };
}

/** Cloud by layer where all are given, else in all; fog counts as low cloud. */
function cloudOf(instant: ForecastInstant): CloudCover | null {
  const { cloudLowShare: low, cloudMediumShare: medium, cloudHighShare: high, cloudShare: total } = instant;
  const fog = instant.fogShare ?? 0;
  if (low !== null && medium !== null && high !== null) return { low: Math.max(low, fog), medium, high };
  return total === null ? null : { total: Math.max(total, fog) };
}

function rainChanceOf(instant: ForecastInstant): number | null {
  const { precipitationMm: amount, precipitationProbability: chance } = instant;
  if (amount === null) return chance;
  if (amount <= 0) return 0;
  return chance ?? Math.min(1, amount / certainRainMm);
}

function hourOfDrops({ instant, air, wind, light, rainChance }: Seen): HourOfDrops {
  return {
    timeMs: instant.timeMs,
    ...air,
    relativeHumidity: air.relativeHumidity === null ? null : Math.max(0.01, air.relativeHumidity),
    windAtPlantMs: wind?.atPlantMs ?? null,
    forecastWindMs: instant.windSpeedMs,
    radiationWm2: light?.radiationWm2 ?? null,
    cover: light?.cover ?? null,
    rainChance,
  };
}

function documentHour(hour: Seen): Omit<HourAtPlant, 'drops'> {
  const { instant, light, wind, lull } = hour;
  return {
    time: formatInstant(instant.timeMs),
    timeMs: instant.timeMs,
    sun: hour.sun,
    light: { illuminanceLux: light?.illuminanceLux ?? null, diffuseShare: light?.diffuseShare ?? null },
    lightingRatioStops: light?.lightingRatioStops ?? null,
    wind: {
      forecastMs: instant.windSpeedMs,
      forecastHeightM: instant.windHeightM,
      atPlantMs: wind?.atPlantMs ?? null,
      gustAtPlantMs: wind?.gustAtPlantMs ?? null,
      factors: [...(wind?.factors ?? [])],
    },
    lull: lull ?? { belowMs: null, shareOfTime: null, meanLengthS: null, expectedWaitS: null },
    air: hour.air,
    insects: insectsIn(hour),
    rainChance: hour.rainChance,
    stable: hour.stable,
    missing: hour.missing,
  };
}

/** Below 10 °C insects are torpid whatever the rest; above, sun and wind must be known. */
function insectsIn({ air, instant, light, rainChance }: Seen): InsectState | null {
  if (air.temperatureC === null) return null;
  if (air.temperatureC < 10) return 'torpid';
  if (light === null || instant.windSpeedMs === null) return null;
  return insectState({
    airTemperatureC: air.temperatureC,
    sunshineShare: 1 - light.cover,
    windSpeedMs: instant.windSpeedMs,
    raining: (rainChance ?? 0) >= 0.5,
    radiationWm2: light.radiationWm2,
    directSun: light.diffuseShare < 0.7,
  });
}

/** Day of the year, 1 to 366, within a day: the sun's distance asks for no more. */
function dayOfYear(timeMs: number): number {
  const days = timeMs / 86_400_000;
  const year = 365.2425;
  return Math.min(366, Math.floor(days - Math.floor(days / year) * year) + 1);
}
