/** Every instant of a forecast, brought down to a plant: sun, light, wind, lulls, air, drops, insects, flowers. */
import { formatInstant, type Forecast, type ForecastInstant, type WhenHour } from '@tepal/formats';
import {
  butterfliesInNumbers,
  dewPointC,
  insectState,
  openSkyShare,
  relativeHumidity,
  type InsectState,
  type PlantMotion,
} from '@tepal/science';
import { dayOfYear } from '../calendar-days.ts';
import { horizonOfPlace, requirePlant, type PlantPlace } from '../place.ts';
import { dropsThrough, type Drops, type HourOfDrops } from './drops.ts';
import { openByHabit, type OpenByHabit } from './flower.ts';
import { leafBalance, type LeafBalance } from './leaf.ts';
import { lightAtPlant, sunHere, type LightHere, type SunHere } from './light-at-plant.ts';
import { lullAtPlant, type LullHere } from './lull.ts';
import { wayDown, type WayDown } from './way-down.ts';
import { windAtPlant, type WindHere } from './wind-at-plant.ts';

/** An hour of the document, with what the windows and the pages need beside the contract's keys. */
export interface HourAtPlant extends WhenHour {
  readonly timeMs: number;
  /** In UTC, 1 to 366. */
  readonly dayOfYear: number;
  readonly sun: WhenHour['sun'] & SunHere;
  readonly light: WhenHour['light'] & {
    /** On the side of an upright flower that faces the sun, and on the side away from it [lx]; the two in stops. */
    readonly litSideLux: number | null;
    readonly shadedSideLux: number | null;
    readonly sidesStops: number | null;
    /** What it was worked out from; null where not known. */
    readonly from: 'radiation' | 'cloud' | null;
  };
  readonly wind: WhenHour['wind'] & {
    /** Where it comes from, from north, clockwise [°]; null where not given. */
    readonly fromDeg: number | null;
    /** What the wind at the plant may be [m/s]. */
    readonly rangeMs: readonly [low: number, high: number] | null;
    readonly word: PlantMotion | null;
    readonly rangeWords: readonly [low: PlantMotion, high: PlantMotion] | null;
    /** su/U at the plant [1]. */
    readonly turbulenceIntensity: number;
  };
  readonly air: WhenHour['air'] & {
    /** Of a dry leaf or petal at the plant [°C]. */
    readonly surfaceTemperatureC: number | null;
    /** Just above the ground, where the forecast gives it [°C]. */
    readonly nearGroundC: number | null;
  };
  readonly drops: WhenHour['drops'] & Drops;
  /** How far a flower of each habit is open [0..1]. */
  readonly open: OpenByHabit;
  /** Whether butterflies fly in numbers; null where not known. */
  readonly insectsInNumbers: boolean | null;
  /** log2 of all the light over the sky's alone [stops]; null where the light is not known. */
  readonly lightingRatioStops: number | null;
  /** Chance of rain in the interval that the forecast's amount is for [0..1]; null where not known. */
  readonly rainChance: number | null;
  /** Chance of thunder [0..1]; null where not given. */
  readonly thunderChance: number | null;
  /** Share of fog, or chance of it [0..1]; null where not given. */
  readonly fog: number | null;
  /** Whether the air is stable: clear, sun low or down, light wind. */
  readonly stable: boolean;
  /** How far ahead the forecast looks here: from its issue on [h]; null where it does not say when it was issued. */
  readonly leadH: number | null;
}

/** Least amount that counts as rain for certain where no chance is given [mm]. */
const certainRainMm = 0.1;
/** Below this the sun leaves the air stable under a clear sky [°]. Pasquill's classes; from memory. */
const lowSunDeg = 10;
/** Share of the light from the sky above which no shadow is seen. Ours. */
const shadowlessShare = 0.7;

/**
 * The hours at a plant: one for every instant of the forecast, past ones too.
 *
 * What the forecast lacks is named in `missing`, and what hangs on it is null. Humidity and dew point stand in for
 * each other through the temperature.
 *
 * @param place plant and place
 * @param forecast in order of time
 * @throws DomainError if the place is out of range
 */
export function hoursAtPlant(place: PlantPlace, forecast: Forecast): HourAtPlant[] {
  requirePlant(place);
  const horizon = horizonOfPlace(place);
  const openSky = horizon === null ? 1 : openSkyShare(horizon);
  const ways = new Map<number, WayDown>();
  const wayFrom = (heightM: number) => {
    const known = ways.get(heightM);
    if (known !== undefined) return known;
    const made = wayDown(place, heightM);
    ways.set(heightM, made);
    return made;
  };
  const seen = forecast.instants.map((instant) =>
    seenAt(instant, {
      sun: sunHere(place, horizon, instant.timeMs),
      openSky,
      way: wayFrom(instant.windHeightM),
    }),
  );
  const drops = dropsThrough(seen.map(hourOfDrops));
  return seen.map((hour, i) => documentHour(hour, drops[i]!, forecast.issuedAtMs));
}

interface Seen {
  readonly instant: ForecastInstant;
  readonly day: number;
  readonly sun: SunHere;
  readonly light: LightHere | null;
  readonly wind: WindHere | null;
  readonly lull: LullHere | null;
  readonly way: WayDown;
  readonly air: { temperatureC: number | null; relativeHumidity: number | null; dewPointC: number | null };
  readonly leaf: LeafBalance | null;
  readonly rainChance: number | null;
  readonly stable: boolean;
  readonly missing: string[];
}

function seenAt(
  instant: ForecastInstant,
  { sun, openSky, way }: { readonly sun: SunHere; readonly openSky: number; readonly way: WayDown },
): Seen {
  const missing: string[] = [];
  const air = airOf(instant, missing);
  const day = dayOfYear(instant.timeMs);
  const light = lightAtPlant(instant, { sun, openSky, dayOfYear: day, dewPointC: air.dewPointC });
  if (light === null) missing.push('cloudShare');
  const { windSpeedMs, windGustMs: gustMs, windFromDeg } = instant;
  const clear = light !== null && light.here.cover < 0.5;
  const stable = sun.altitudeDeg < lowSunDeg && clear && (windSpeedMs ?? 9) < 6;
  if (windSpeedMs === null) missing.push('windSpeedMs');
  if (gustMs === null) missing.push('windGustMs');
  if (windFromDeg === null && asksDirection(way)) missing.push('windFromDeg');
  const [lowMs, highMs] = rangeOf(instant);
  const wind =
    windSpeedMs === null
      ? null
      : windAtPlant(way, { windSpeedMs, gustMs, stable, windFromDeg, lowMs, highMs });
  const rainChance = rainChanceOf(instant);
  if (rainChance === null) missing.push('precipitationMm');
  const leaf = leafBalance({
    ...air,
    windAtPlantMs: wind?.atPlantMs ?? null,
    radiationWm2: light?.here.radiationWm2 ?? null,
    cover: light?.here.cover ?? null,
    openSky,
  });
  const lull = wind === null ? null : lullAtPlant(wind.atPlantMs, way);
  return { instant, day, sun, light, wind, lull, way, air, leaf, rainChance, stable, missing };
}

const asksDirection = ({ rise, barrier }: WayDown): boolean =>
  barrier !== null || (rise !== null && rise.upslopeDeg !== null);

/** The forecast's range of the mean wind: its percentiles, else its own estimate of the error. */
function rangeOf(instant: ForecastInstant): readonly [number | null, number | null] {
  const { windSpeedLowMs: low, windSpeedHighMs: high, windSpeedMs: mean, windSpeedErrorMs: error } = instant;
  if (low !== null || high !== null || mean === null || error === null) return [low, high];
  return [Math.max(0, mean - error), mean + error];
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

function rainChanceOf(instant: ForecastInstant): number | null {
  const { precipitationMm: amount, precipitationProbability: chance } = instant;
  if (amount === null) return chance;
  if (amount <= 0) return 0;
  return chance ?? Math.min(1, amount / certainRainMm);
}

function hourOfDrops({ instant, air, leaf, rainChance }: Seen): HourOfDrops {
  return {
    timeMs: instant.timeMs,
    ...air,
    forecastWindMs: instant.windSpeedMs,
    evaporationMmH: leaf?.evaporationMmH ?? null,
    rainChance,
  };
}

function documentHour(hour: Seen, drops: Drops, issuedAtMs: number | null): HourAtPlant {
  const { instant, light, wind, lull, sun } = hour;
  return {
    time: formatInstant(instant.timeMs),
    timeMs: instant.timeMs,
    dayOfYear: hour.day,
    sun,
    light: {
      illuminanceLux: light?.here.illuminanceLux ?? null,
      diffuseShare: light?.here.diffuseShare ?? null,
      litSideLux: light?.sides.litLux ?? null,
      shadedSideLux: light?.sides.shadedLux ?? null,
      sidesStops: light?.sides.stops ?? null,
      from: light?.from ?? null,
    },
    lightingRatioStops: light?.here.lightingRatioStops ?? null,
    wind: {
      forecastMs: instant.windSpeedMs,
      forecastHeightM: instant.windHeightM,
      atPlantMs: wind?.atPlantMs ?? null,
      gustAtPlantMs: wind?.gustAtPlantMs ?? null,
      factors: wind?.factors ?? [],
      fromDeg: instant.windFromDeg,
      rangeMs: wind?.rangeMs ?? null,
      word: wind?.word ?? null,
      rangeWords: wind?.rangeWords ?? null,
      turbulenceIntensity: hour.way.turbulenceIntensity,
    },
    lull: lull ?? { belowMs: null, shareOfTime: null, meanLengthS: null, expectedWaitS: null },
    air: {
      ...hour.air,
      surfaceTemperatureC: hour.leaf?.surfaceTemperatureC ?? null,
      nearGroundC: instant.groundTemperatureC,
    },
    drops,
    open: openByHabit({
      solarTimeH: sun.solarTimeH,
      sunAltitudeDeg: sun.altitudeDeg,
      sunClears: sun.clearsHorizon,
      diffuseShare: light?.here.diffuseShare ?? null,
    }),
    ...insectsIn(hour),
    rainChance: hour.rainChance,
    thunderChance: instant.thunderProbability,
    fog: instant.fogShare ?? instant.fogProbability,
    stable: hour.stable,
    leadH: issuedAtMs === null ? null : (instant.timeMs - issuedAtMs) / 3_600_000,
    missing: hour.missing,
  };
}

/** Below 10 °C insects are torpid whatever the rest; above, sun and wind must be known. */
function insectsIn({ air, instant, light, sun, rainChance }: Seen): {
  readonly insects: InsectState | null;
  readonly insectsInNumbers: boolean | null;
} {
  if (air.temperatureC === null) return { insects: null, insectsInNumbers: null };
  if (air.temperatureC < 10) return { insects: 'torpid', insectsInNumbers: false };
  if (light === null || instant.windSpeedMs === null) return { insects: null, insectsInNumbers: null };
  const { cover, diffuseShare, radiationWm2 } = light.here;
  const weather = {
    airTemperatureC: air.temperatureC,
    sunshineShare: sun.clearsHorizon ? (instant.sunshineShare ?? 1 - cover) : 0,
    windSpeedMs: instant.windSpeedMs,
    raining: (rainChance ?? 0) >= 0.5,
  };
  const directSun = sun.clearsHorizon && diffuseShare < shadowlessShare;
  const insects = insectState({ ...weather, radiationWm2, directSun });
  return { insects, insectsInNumbers: insects === 'flying' && butterfliesInNumbers(weather) };
}
