/**
 * The US National Weather Service's grid data (`forecastGridData`): one layer a quantity, each with its own unit and
 * its own intervals, in which equal hours are merged. The intervals are unfolded to hours.
 *
 * @source US National Weather Service, API documentation (api.weather.gov, gridpoints); FS 9.2
 */
import { formatFault, refused, told, understood, type FormatFault, type Result } from '../../result.ts';
import { member } from '../../text.ts';
import { parseInstantMs } from '../../time.ts';
import { definitionSentences, type ForecastDefinitions } from '../definitions.ts';
import { unknownInstant, type Forecast, type ForecastInstant, type ForecastQuantity } from '../forecast.ts';
import { plausible, plausibleValue } from '../plausible.ts';
import { reportGaps, shortened } from '../time-series.ts';
import { acceptedUnits, conversionFrom } from '../units.ts';
import { parseInterval, type TimeInterval } from './time-interval.ts';

const layerNames = {
  windSpeedMs: 'windSpeed',
  windGustMs: 'windGust',
  windFromDeg: 'windDirection',
  cloudShare: 'skyCover',
  airTemperatureC: 'temperature',
  dewPointC: 'dewpoint',
  relativeHumidity: 'relativeHumidity',
  visibilityM: 'visibility',
  pressureHpa: 'pressure',
  precipitationMm: 'quantitativePrecipitation',
  precipitationProbability: 'probabilityOfPrecipitation',
  thunderProbability: 'probabilityOfThunder',
} as const satisfies { readonly [Q in ForecastQuantity]?: string };

// Wind at 10 m, and a probability of 0.01 inch or more: from memory.
const DEFINITIONS: ForecastDefinitions = {
  wind: { heightM: 10, statistic: 'prevailingMaximum', averagedMin: null },
  gust: { averagedS: null, largestOf: 'intervalAround' },
  cloudLayers: null,
  precipitation: { interval: 'around', probabilityOfAtLeastMm: 0.254 },
  radiation: null,
  groundTemperature: null,
  fog: null,
  thunder: { intervalH: null },
  airHeightM: 2,
};

const HOUR_MS = 3_600_000;
const MAX_HOURS = 24 * 30;
const MAX_VALUES = 5000;

/** Whether a JSON value has the shape of grid data. */
export function looksLikeUsGridPoints(json: unknown): boolean {
  return (
    member(json, 'properties', layerNames.airTemperatureC, 'values') !== undefined ||
    member(json, 'properties', layerNames.windSpeedMs, 'values') !== undefined
  );
}

interface Piece extends TimeInterval {
  readonly value: number;
}
type Layers = ReadonlyMap<ForecastQuantity, readonly Piece[]>;

/**
 * Grid data as a forecast, hour by hour.
 *
 * @returns refused when no hour has a value, the cell is not on Earth, or a layer's unit cannot be converted
 */
export function readUsGridPoints(json: unknown): Result<Forecast> {
  const place = readPlace(json);
  if (!place.ok) return place;
  const faults: FormatFault[] = [];
  const layers = readLayers(member(json, 'properties'), faults);
  if (!layers.ok) return layers;
  const instants = unfold(layers.value);
  if (instants.length === 0) {
    const accepted = 'layers whose values have an interval in ISO 8601';
    return refused({ where: 'properties', found: 'no hour with a value', accepted });
  }
  reportGaps(instants, 'properties', faults, HOUR_MS);
  const updated = member(json, 'properties', 'updateTime');
  const told40 = shortened(faults);
  return understood(
    {
      source: 'US National Weather Service, grid data',
      issuedAtMs: typeof updated === 'string' ? parseInstantMs(updated) : null,
      ...place.value,
      credit: 'US National Weather Service, public domain',
      instants,
      definitions: DEFINITIONS,
      notes: definitionSentences(DEFINITIONS),
      faults: told40,
    },
    told40.map((fault) => fault.message),
  );
}

/** The middle of the cell's corners, and the ground's elevation. */
function readPlace(
  json: unknown,
): Result<{ latitudeDeg: number; longitudeDeg: number; altitudeM: number | null }> {
  const rings = member(json, 'geometry', 'coordinates');
  const ring: unknown = Array.isArray(rings) ? rings[0] : undefined;
  const corners = (Array.isArray(ring) ? ring : []).flatMap((corner: unknown) => {
    const [longitude, latitude] = Array.isArray(corner) ? (corner as unknown[]) : [];
    return typeof longitude === 'number' && typeof latitude === 'number' ? [{ longitude, latitude }] : [];
  });
  // A ring names its first corner twice.
  const once = corners.slice(0, Math.max(1, corners.length - 1));
  const mean = (of: (corner: { longitude: number; latitude: number }) => number) =>
    once.length === 0 ? Number.NaN : once.reduce((sum, corner) => sum + of(corner), 0) / once.length;
  const [latitudeDeg, longitudeDeg] = [mean((c) => c.latitude), mean((c) => c.longitude)];
  if (!(Math.abs(latitudeDeg) <= 90 && Math.abs(longitudeDeg) <= 180)) {
    const found = Array.isArray(rings) ? `${corners.length} corners on Earth` : told(rings);
    return refused({ where: 'geometry.coordinates', found, accepted: 'the corners of a cell on Earth' });
  }
  const elevation = member(json, 'properties', 'elevation');
  const unit = member(elevation, 'unitCode');
  const conversion = conversionFrom('length', typeof unit === 'string' ? unit : 'm');
  const value = member(elevation, 'value');
  const altitude =
    conversion !== null && typeof value === 'number'
      ? (value * conversion.times) / conversion.per + conversion.plus
      : Number.NaN;
  return understood({ latitudeDeg, longitudeDeg, altitudeM: Math.abs(altitude) <= 9000 ? altitude : null });
}

function readLayers(properties: unknown, faults: FormatFault[]): Result<Layers> {
  const layers = new Map<ForecastQuantity, readonly Piece[]>();
  for (const [quantity, name] of Object.entries(layerNames) as [ForecastQuantity, string][]) {
    const values = member(properties, name, 'values');
    if (!Array.isArray(values) || values.length === 0) continue;
    const unit = member(properties, name, 'uom');
    const { quantity: kind } = plausible[quantity];
    const conversion = typeof unit === 'string' ? conversionFrom(kind, unit) : null;
    if (conversion === null) {
      const where = `properties.${name}.uom`;
      return refused({ where, found: told(unit), accepted: acceptedUnits(kind) });
    }
    const pieces = values.slice(0, MAX_VALUES).flatMap((entry: unknown, i): Piece[] => {
      const where = `properties.${name}.values[${i}]`;
      const validTime = member(entry, 'validTime');
      const interval = typeof validTime === 'string' ? parseInterval(validTime) : null;
      if (interval === null) {
        const accepted = 'an interval in ISO 8601, start/duration; it was left out';
        faults.push(formatFault({ where: `${where}.validTime`, found: told(validTime), accepted }));
        return [];
      }
      const value = plausibleValue(quantity, member(entry, 'value'), conversion, where, faults);
      return value === null ? [] : [{ ...interval, value }];
    });
    layers.set(
      quantity,
      pieces.sort((a, b) => a.fromMs - b.fromMs),
    );
  }
  return understood(layers);
}

/** One instant an hour, from the first that has a value to the last, without those that have none. */
function unfold(layers: Layers): ForecastInstant[] {
  const pieces = [...layers.values()].flat();
  if (pieces.length === 0) return [];
  const first = pieces.reduce((least, piece) => Math.min(least, piece.fromMs), Infinity);
  const last = pieces.reduce((most, piece) => Math.max(most, piece.toMs), -Infinity);
  const startMs = Math.ceil(first / HOUR_MS) * HOUR_MS;
  const hours = Math.min(MAX_HOURS, Math.ceil((last - startMs) / HOUR_MS));
  const instants: ForecastInstant[] = [];
  for (let i = 0; i < hours; i += 1) {
    const timeMs = startMs + i * HOUR_MS;
    const found = [...layers].flatMap(([quantity, layer]) => {
      const piece = layer.findLast((one) => one.fromMs <= timeMs && timeMs < one.toMs);
      return piece === undefined ? [] : [[quantity, piece] as const];
    });
    if (found.length === 0) continue;
    const rain = found.find(([quantity]) => quantity === 'precipitationMm')?.[1];
    const chance = found.find(([quantity]) => quantity === 'precipitationProbability')?.[1];
    const interval = rain ?? chance;
    instants.push({
      ...unknownInstant(timeMs, DEFINITIONS.wind.heightM),
      ...(Object.fromEntries(found.map(([quantity, piece]) => [quantity, piece.value])) as {
        [Q in ForecastQuantity]?: number;
      }),
      precipitationFromMs: interval?.fromMs ?? null,
      precipitationToMs: interval?.toMs ?? null,
    });
  }
  return instants;
}
