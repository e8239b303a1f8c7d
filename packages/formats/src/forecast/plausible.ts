/** What each quantity of a forecast is measured in here and how large it can be, the same for every source. */
import { formatFault, told, type FormatFault } from '../result.ts';
import type { ForecastQuantity } from './forecast.ts';
import type { Quantity, UnitConversion } from './units.ts';

interface Plausible {
  readonly quantity: Quantity;
  /** In our unit; outside it a value is left out and said so. */
  readonly range: readonly [number, number];
  /** What is a little above this is read as this. */
  readonly most?: number;
}

const wind: Plausible = { quantity: 'speed', range: [0, 120] };
const temperature: Plausible = { quantity: 'temperature', range: [-100, 70] };
const share: Plausible = { quantity: 'share', range: [0, 1] };

/** Bounds as wide as weather on Earth has been, and no wider. */
export const plausible: { readonly [Q in ForecastQuantity]: Plausible } = {
  windSpeedMs: wind,
  windSpeedLowMs: wind,
  windSpeedHighMs: wind,
  windGustMs: wind,
  windFromDeg: { quantity: 'angle', range: [0, 360] },
  cloudShare: share,
  cloudLowShare: share,
  cloudMediumShare: share,
  cloudHighShare: share,
  fogShare: share,
  airTemperatureC: temperature,
  dewPointC: temperature,
  // Supersaturated air is forecast now and then: up to 110 % is read as saturated.
  relativeHumidity: { quantity: 'share', range: [0, 1.1], most: 1 },
  pressureHpa: { quantity: 'pressure', range: [800, 1100] },
  radiationWm2: { quantity: 'radiation', range: [0, 1600] },
  sunshineShare: { quantity: 'shareOfHour', range: [0, 1] },
  groundTemperatureC: temperature,
  fogProbability: share,
  visibilityM: { quantity: 'length', range: [0, 1_000_000] },
  windSpeedErrorMs: { quantity: 'speed', range: [0, 60] },
  airTemperatureErrorK: { quantity: 'temperatureDifference', range: [0, 60] },
  precipitationMm: { quantity: 'precipitation', range: [0, 2000] },
  precipitationProbability: share,
  thunderProbability: share,
};

const ourUnit: { readonly [Q in Quantity]: string } = {
  speed: 'm/s',
  temperature: '°C',
  temperatureDifference: 'K',
  share: 'as a share',
  shareOfHour: 'as a share of the hour',
  angle: 'degrees',
  pressure: 'hPa',
  precipitation: 'mm',
  length: 'm',
  radiation: 'W/m²',
};

/**
 * A number of a document in our unit; null where there is none, and with a fault where it is no number or outside
 * what is plausible.
 *
 * @param where the place in the document, for the fault
 */
export function plausibleValue(
  name: ForecastQuantity,
  written: unknown,
  { times, per, plus }: UnitConversion,
  where: string,
  faults: FormatFault[],
): number | null {
  if (written === undefined || written === null) return null;
  const ours = typeof written === 'number' ? (written * times) / per + plus : Number.NaN;
  const { quantity, range, most } = plausible[name];
  const [low, high] = range;
  // A hair of tolerance for what conversion rounds; the value itself stays inside the range.
  if (ours >= low - 1e-9 && ours <= high + 1e-9) return Math.min(most ?? high, Math.max(low, ours));
  const accepted = `a number from ${low} to ${high} (${ourUnit[quantity]}); it was left out`;
  faults.push(formatFault({ where, found: told(written), accepted }));
  return null;
}
