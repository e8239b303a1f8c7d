/** What to mind about these hours, in sentences. */
import type { Forecast } from '@tepal/formats';
import type { HourAtPlant } from './hour/hours.ts';
import type { PlantPlace } from './place.ts';

/** Age from which a forecast is called old [h]. */
const oldForecastH = 24;
/** Differences from which the forecast is for another place [m] and [km]. */
const otherAltitudeM = 150;
const otherPlaceKm = 15;

/** Age of a forecast [h]; null where it does not say when it was issued. */
export function forecastAgeH(forecast: Forecast, nowMs: number): number | null {
  return forecast.issuedAtMs === null ? null : (nowMs - forecast.issuedAtMs) / 3_600_000;
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
  if (last.timeMs + 3_600_000 <= nowMs) cautions.push('Every hour of the forecast lies in the past.');
  if (forecast.altitudeM !== null && Math.abs(forecast.altitudeM - place.altitudeM) > otherAltitudeM) {
    cautions.push(
      `The forecast is for ${Math.round(forecast.altitudeM)} m above sea level, the site lies at ${Math.round(place.altitudeM)} m.`,
    );
  }
  const awayKm = distanceKm(place, forecast);
  if (awayKm > otherPlaceKm) cautions.push(`The forecast is for a place ${Math.round(awayKm)} km away.`);
  if (hours[0]!.sun.altitudeDeg < 0) {
    cautions.push('The forecast begins in the dark; dew formed before its first hour is not counted.');
  }
  if (hours.some((hour) => hour.stable)) {
    cautions.push(
      'On clear, calm nights and dawns the air near the ground is stiller than these numbers say.',
    );
  }
  if (hours.some((hour) => frosty(hour))) {
    cautions.push('Ground frost is possible: clear, calm and below 4 °C at 2 m.');
  }
  return cautions;
}

function ageOf(hours: number): string {
  const days = Math.floor(hours / 24);
  return days === 1 ? '1 day' : `${days} days`;
}

function frosty({ air, sun, stable }: HourAtPlant): boolean {
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
