/** What to mind about these hours, in sentences. */
import { formatInstant, type Forecast } from '@tepal/formats';
import { windChillC, wetBulbStull2011C } from '@tepal/science';
import { solarDate } from './calendar-days.ts';
import type { HourAtPlant } from './hour/hours.ts';
import type { PlantPlace } from './place.ts';
import { isFar, partInWords, partOfDay } from './window/parts-of-days.ts';

/** Age from which a forecast is called old [h]. */
const oldForecastH = 24;
/** Differences from which the forecast is for another place [m] and [km]. */
const otherAltitudeM = 150;
const otherPlaceKm = 15;
/** Chance of thunder worth a word [0..1]. Ours. */
const thunderFrom = 0.1;
/** Air, and wet bulb, from which lying still in the sun strains [°C]. Common practice, no source. */
const hotC = 30;
const sultryC = 24;
/** Wind chill from which hands stiffen [°C]. Common practice, no source. */
const coldC = 0;
/** Widest gap between two instants that is none [h]; forecasts go over to steps of six hours by themselves. */
const widestStepH = 6;
const hourMs = 3_600_000;

/** Age of a forecast [h]; null where it does not say when it was issued. */
export function forecastAgeH(forecast: Forecast, nowMs: number): number | null {
  return forecast.issuedAtMs === null ? null : (nowMs - forecast.issuedAtMs) / hourMs;
}

/**
 * Cautions for the hours of a forecast at a plant; the first is the site's own rules, always.
 *
 * @param nowMs Unix time [ms]
 */
export function cautionsOf(
  place: PlantPlace,
  forecast: Forecast,
  hours: readonly HourAtPlant[],
  nowMs: number,
): string[] {
  const cautions = ["Local law and the site's own rules come first."];
  const ageH = forecastAgeH(forecast, nowMs);
  if (ageH === null) cautions.push('The forecast does not say when it was issued.');
  else if (ageH >= oldForecastH) cautions.push(`The forecast is ${ageOf(ageH)} old.`);
  const last = hours.at(-1);
  if (last === undefined) return [...cautions, 'The forecast holds no hours.'];
  if (last.timeMs + hourMs <= nowMs) cautions.push('Every hour of the forecast lies in the past.');
  if (forecast.altitudeM !== null && Math.abs(forecast.altitudeM - place.altitudeM) > otherAltitudeM) {
    cautions.push(
      `The forecast is for ${Math.round(forecast.altitudeM)} m above sea level, the site lies at ${Math.round(place.altitudeM)} m.`,
    );
  }
  const awayKm = distanceKm(place, forecast);
  if (awayKm > otherPlaceKm) cautions.push(`The forecast is for a place ${Math.round(awayKm)} km away.`);
  const ahead = hours.filter(({ timeMs }) => timeMs + hourMs > nowMs);
  const dangers = dangersOf(place, ahead.length > 0 ? ahead : hours);
  return [...cautions, ...gapsOf(hours), ...limitsOf(place, forecast, hours), ...dangers];
}

/** What a name in `missing` stands for. */
const missingWords: Readonly<Record<string, string>> = {
  airTemperatureC: 'temperature',
  relativeHumidity: 'humidity',
  dewPointC: 'dew point',
  cloudShare: 'cloud',
  windSpeedMs: 'wind',
  windGustMs: 'gusts',
  windFromDeg: 'wind direction',
  precipitationMm: 'rain',
};
const inWords = (name: string) => missingWords[name] ?? name;

/** Hours that the forecast leaves out, and what its hours lack. */
function gapsOf(hours: readonly HourAtPlant[]): string[] {
  const steps = hours.slice(1).map((hour, i) => (hour.timeMs - hours[i]!.timeMs) / hourMs);
  const gaps = steps.flatMap((stepH, i) => {
    // A step that is longer than both its neighbours is a hole, not a change to coarser steps.
    const before = steps[i - 1] ?? stepH;
    const after = steps[i + 1] ?? before;
    const hole = stepH > widestStepH || (stepH > before * 1.5 && stepH > after * 1.5);
    return hole ? [{ fromMs: hours[i]!.timeMs, toMs: hours[i + 1]!.timeMs }] : [];
  });
  const told = gaps
    .slice(0, 3)
    .map(({ fromMs, toMs }) => `between ${formatInstant(fromMs)} and ${formatInstant(toMs)}`);
  const more = gaps.length > 3 ? ` and in ${gaps.length - 3} further places` : '';
  const missing = new Map<string, number>();
  for (const hour of hours) for (const name of hour.missing) missing.set(name, (missing.get(name) ?? 0) + 1);
  const always = [...missing].filter(([, count]) => count === hours.length).map(([name]) => name);
  const sometimes = [...missing].filter(([, count]) => count < hours.length);
  return [
    ...(gaps.length === 0
      ? []
      : [`The forecast has no hours ${told.join(', ')}${more}: nothing is said of them.`]),
    ...(always.length === 0 ? [] : [`The forecast never gives: ${always.map(inWords).join(', ')}.`]),
    ...(sometimes.length === 0
      ? []
      : [
          `Some hours lack an input: ${sometimes.map(([name, count]) => `${inWords(name)} in ${count} of ${hours.length}`).join(', ')}.`,
        ]),
  ];
}

/** Where the formulas end, told where it matters. */
function limitsOf(place: PlantPlace, forecast: Forecast, hours: readonly HourAtPlant[]): string[] {
  const limits: string[] = [];
  if (forecast.definitions.wind.statistic === 'prevailingMaximum') {
    limits.push("This source's wind is the strongest that prevails, not a mean: it is rather stiller.");
  }
  if (hours[0]!.sun.altitudeDeg < 0) {
    limits.push('The forecast begins in the dark; dew formed before its first hour is not counted.');
  }
  if (place.plantHeightM < place.vegetationHeightM) {
    limits.push("Below the plants' tops published wind formulas differ by a quarter: see the range.");
  }
  const stable = hours.some((hour) => hour.stable);
  if (stable) {
    limits.push('On clear, calm nights and dawns the air near the ground is stiller than these numbers say.');
  }
  const { kind } = place.landform;
  if (stable && (kind === 'valley' || kind === 'hollow' || place.shelter === 'hollow')) {
    limits.push('Calm, cold air pools in valleys and hollows then: stiller still, and colder.');
  }
  if (kind === 'crest' || kind === 'hill' || kind === 'escarpment') {
    limits.push(
      'The speed-up over the landform holds in wind above 6 m/s alone; in light wind and stable air it is left out.',
    );
  }
  if (hours.some(isFar)) {
    limits.push('Past the third day a forecast tells parts of days, not hours: good, fair or poor.');
  }
  return limits;
}

function dangersOf(place: PlantPlace, hours: readonly HourAtPlant[]): string[] {
  const when = ({ timeMs, sun }: HourAtPlant) =>
    partInWords({ part: partOfDay(sun.solarTimeH), date: solarDate(timeMs, place.longitudeDeg) });
  const dangers: string[] = [];
  const thunder = worst(hours, ({ thunderChance }) => thunderChance);
  if (thunder !== null && thunder.value >= thunderFrom) {
    dangers.push(
      `Thunder: ${Math.round(100 * thunder.value)} % ${when(thunder.hour)}. Be off crests and away from single trees before it comes.`,
    );
  }
  const hot = worst(hours, ({ air }) => air.temperatureC);
  const sultry = worst(hours, ({ air }) => wetBulb(air.temperatureC, air.relativeHumidity));
  if (hot !== null && hot.value >= hotC) {
    dangers.push(`Heat: ${hot.value.toFixed(0)} °C ${when(hot.hour)}. Take water, and shade.`);
  } else if (sultry !== null && sultry.value >= sultryC) {
    dangers.push(`Close, damp heat ${when(sultry.hour)}. Take water, and shade.`);
  }
  const cold = worst(hours, ({ air, wind }) =>
    air.temperatureC === null || wind.forecastMs === null
      ? null
      : -windChillC(air.temperatureC, wind.forecastMs),
  );
  if (cold !== null && -cold.value <= coldC) {
    dangers.push(
      `Cold: it feels like ${(-cold.value).toFixed(0)} °C ${when(cold.hour)}. Lie on something dry.`,
    );
  }
  if (hours.some(frosty)) {
    dangers.push('Ground frost is possible: clear, calm and below 4 °C at 2 m.');
  }
  const fog = worst(hours, (hour) => hour.fog);
  if (fog !== null && fog.value >= 0.3) {
    dangers.push(`Fog or mist is likely ${when(fog.hour)}: soft light and wet leaves, and slow roads.`);
  }
  return dangers;
}

function wetBulb(temperatureC: number | null, humidity: number | null): number | null {
  if (temperatureC === null || humidity === null) return null;
  if (temperatureC < 15 || temperatureC > 50 || humidity < 0.05 || humidity > 0.99) return null;
  return wetBulbStull2011C(temperatureC, humidity);
}

function worst(
  hours: readonly HourAtPlant[],
  of: (hour: HourAtPlant) => number | null,
): { readonly hour: HourAtPlant; readonly value: number } | null {
  let found: { hour: HourAtPlant; value: number } | null = null;
  for (const hour of hours) {
    const value = of(hour);
    if (value !== null && (found === null || value > found.value)) found = { hour, value };
  }
  return found;
}

function ageOf(hours: number): string {
  const days = Math.floor(hours / 24);
  return days === 1 ? '1 day' : `${days} days`;
}

function frosty({ air, sun, stable }: HourAtPlant): boolean {
  if (air.nearGroundC !== null && air.nearGroundC < 0) return true;
  return stable && sun.altitudeDeg < 0 && air.temperatureC !== null && air.temperatureC < 4;
}

/** Great-circle distance on a sphere of 6371 km. */
function distanceKm(
  one: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  other: { readonly latitudeDeg: number; readonly longitudeDeg: number },
): number {
  const degree = Math.PI / 180;
  const dLat = (other.latitudeDeg - one.latitudeDeg) * degree;
  const dLon = (other.longitudeDeg - one.longitudeDeg) * degree;
  const a =
    Math.sin(dLat / 2) ** 2 +
    Math.cos(one.latitudeDeg * degree) * Math.cos(other.latitudeDeg * degree) * Math.sin(dLon / 2) ** 2;
  return 2 * 6371 * Math.asin(Math.min(1, Math.sqrt(a)));
}
