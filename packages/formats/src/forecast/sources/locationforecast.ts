/**
 * MET Norway's Locationforecast 2.0 as JSON, `complete` or `compact`: GeoJSON with a time series in UTC, hourly for
 * some two days and six-hourly after. Any field may be missing.
 *
 * @source MET Norway, Locationforecast 2.0 data model (docs and JSON schema, snapshot 2023-03); FS 9.1 (A)
 */
import { formatFault, refused, told, understood, type FormatFault, type Result } from '../../result.ts';
import { member } from '../../text.ts';
import { parseInstantMs } from '../../time.ts';
import { definitionSentences, type ForecastDefinitions } from '../definitions.ts';
import { unknownInstant, type Forecast, type ForecastInstant, type ForecastQuantity } from '../forecast.ts';
import { plausible, plausibleValue } from '../plausible.ts';
import { inOrder, reportGaps, shortened } from '../time-series.ts';
import { acceptedUnits, conversionFrom, type UnitConversion } from '../units.ts';

interface Source {
  readonly field: string;
  /** The unit that the data model names, used where the document names none. */
  readonly unit: string;
}

type Sources = { readonly [Q in ForecastQuantity]?: Source };

const instantFields = {
  windSpeedMs: { field: 'wind_speed', unit: 'm/s' },
  windSpeedLowMs: { field: 'wind_speed_percentile_10', unit: 'm/s' },
  windSpeedHighMs: { field: 'wind_speed_percentile_90', unit: 'm/s' },
  windGustMs: { field: 'wind_speed_of_gust', unit: 'm/s' },
  windFromDeg: { field: 'wind_from_direction', unit: 'degrees' },
  cloudShare: { field: 'cloud_area_fraction', unit: '%' },
  cloudLowShare: { field: 'cloud_area_fraction_low', unit: '%' },
  cloudMediumShare: { field: 'cloud_area_fraction_medium', unit: '%' },
  cloudHighShare: { field: 'cloud_area_fraction_high', unit: '%' },
  fogShare: { field: 'fog_area_fraction', unit: '%' },
  airTemperatureC: { field: 'air_temperature', unit: 'celsius' },
  dewPointC: { field: 'dew_point_temperature', unit: 'celsius' },
  relativeHumidity: { field: 'relative_humidity', unit: '%' },
  pressureHpa: { field: 'air_pressure_at_sea_level', unit: 'hPa' },
} satisfies Sources;

const periodFields = {
  precipitationMm: { field: 'precipitation_amount', unit: 'mm' },
  precipitationProbability: { field: 'probability_of_precipitation', unit: '%' },
  thunderProbability: { field: 'probability_of_thunder', unit: '%' },
} satisfies Sources;

type Field = keyof typeof instantFields | keyof typeof periodFields;
const fields: { readonly [F in Field]: Source } = { ...instantFields, ...periodFields };
const fieldNames = Object.keys(fields) as readonly Field[];

const periods = [
  { key: 'next_1_hours', lengthMs: 3_600_000 },
  { key: 'next_6_hours', lengthMs: 6 * 3_600_000 },
  { key: 'next_12_hours', lengthMs: 12 * 3_600_000 },
] as const;

const DEFINITIONS: ForecastDefinitions = {
  wind: { heightM: 10, statistic: 'mean', averagedMin: 10 },
  gust: { averagedS: 3, largestOf: 'intervalThatFollows' },
  cloudLayers: { mediumFromM: 2000, highFromM: 5000 },
  precipitation: { interval: 'follows', probabilityOfAtLeastMm: null },
  radiation: null,
  groundTemperature: null,
  fog: { kind: 'areaShare', visibilityBelowM: 1000 },
  thunder: { intervalH: null },
  airHeightM: 2,
};

const SERIES = 'properties.timeseries';
const MAX_INSTANTS = 20_000;

/** Whether a JSON value has the shape of a Locationforecast, bare or inside `{status_code, headers, data}`. */
export function looksLikeLocationforecast(json: unknown): boolean {
  const bare = member(json, 'data') ?? json;
  return member(bare, 'properties', 'timeseries') !== undefined;
}

/**
 * A Locationforecast document as a forecast. Values that are missing, null or implausible become null, with a fault
 * where something was wrong; times are sorted and each kept once.
 *
 * @param json the parsed document, or one wrapped as `{status_code, headers, data}`
 * @returns refused when there is no usable time series, no place on Earth, or a unit that cannot be converted
 */
export function readLocationforecast(json: unknown): Result<Forecast> {
  const bare = member(json, 'data') ?? json;
  const series = member(bare, 'properties', 'timeseries');
  if (!Array.isArray(series) || series.length === 0 || series.length > MAX_INSTANTS) {
    const found = Array.isArray(series) && series.length === 0 ? 'an empty list' : told(series);
    return refused({ where: SERIES, found, accepted: 'a list of at least one time' });
  }
  const place = readPlace(member(bare, 'geometry', 'coordinates'));
  if (!place.ok) return place;
  const faults: FormatFault[] = [];
  const units = readUnits(member(bare, 'properties', 'meta', 'units'), faults);
  if (!units.ok) return units;

  const instants = inOrder(readInstants(series, units.value, faults), SERIES, faults);
  if (instants.length === 0) {
    return refused({
      where: SERIES,
      found: `${series.length} entries, none with a time`,
      accepted: 'entries with a time in ISO 8601 with an offset',
    });
  }
  reportGaps(instants, SERIES, faults);
  return understood(
    {
      source: named(bare, 'source') ?? 'MET Norway Locationforecast 2.0',
      issuedAtMs: readIssued(member(bare, 'properties', 'meta', 'updated_at'), faults),
      ...place.value,
      credit: named(bare, 'credit') ?? 'Forecast data from MET Norway, NLOD 2.0 and CC BY 4.0',
      instants,
      definitions: DEFINITIONS,
      notes: definitionSentences(DEFINITIONS),
      faults: shortened(faults),
    },
    shortened(faults).map((fault) => fault.message),
  );
}

/** A text of the document's `meta`: one that is not the service's own names its source and credit there. */
function named(document: unknown, field: 'source' | 'credit'): string | null {
  const text = member(document, 'properties', 'meta', field);
  return typeof text === 'string' && text.trim() !== '' ? text : null;
}

function readPlace(
  coordinates: unknown,
): Result<{ latitudeDeg: number; longitudeDeg: number; altitudeM: number | null }> {
  const list: readonly unknown[] = Array.isArray(coordinates) ? coordinates : [];
  const [longitude, latitude, altitude] = list;
  const within = (value: unknown, limit: number): value is number =>
    typeof value === 'number' && Math.abs(value) <= limit;
  if (!within(longitude, 180) || !within(latitude, 90)) {
    return refused({
      where: 'geometry.coordinates',
      found: list.length > 0 ? `[${list.slice(0, 3).map(told).join(', ')}]` : told(coordinates),
      accepted: '[longitude -180 to 180, latitude -90 to 90, altitude in m]',
    });
  }
  const altitudeM = within(altitude, 9000) ? altitude : null;
  return understood({ latitudeDeg: latitude, longitudeDeg: longitude, altitudeM });
}

type Conversions = ReadonlyMap<Field, UnitConversion>;

function readUnits(units: unknown, faults: FormatFault[]): Result<Conversions> {
  const known = new Map<Field, UnitConversion>();
  for (const name of fieldNames) {
    const { field, unit } = fields[name];
    const { quantity } = plausible[name];
    const named = member(units, field);
    const conversion = conversionFrom(quantity, typeof named === 'string' ? named : unit);
    if (conversion === null || (named !== undefined && named !== null && typeof named !== 'string')) {
      const where = `properties.meta.units.${field}`;
      return refused({ where, found: told(named), accepted: acceptedUnits(quantity) });
    }
    known.set(name, conversion);
  }
  if (typeof units !== 'object' || units === null) {
    const accepted = 'a table of units; those of the data model were taken';
    faults.push(formatFault({ where: 'properties.meta.units', found: told(units), accepted }));
  }
  return understood(known);
}

function readIssued(updatedAt: unknown, faults: FormatFault[]): number | null {
  const issuedAtMs = typeof updatedAt === 'string' ? parseInstantMs(updatedAt) : null;
  if (issuedAtMs === null) {
    const accepted = 'the time of issue in ISO 8601 with an offset';
    faults.push(formatFault({ where: 'properties.meta.updated_at', found: told(updatedAt), accepted }));
  }
  return issuedAtMs;
}

function readInstants(
  series: readonly unknown[],
  units: Conversions,
  faults: FormatFault[],
): ForecastInstant[] {
  const instants: ForecastInstant[] = [];
  series.forEach((entry, i) => {
    const where = `${SERIES}[${i}]`;
    const time = member(entry, 'time');
    const timeMs = typeof time === 'string' ? parseInstantMs(time) : null;
    if (timeMs === null) {
      const accepted = 'an ISO 8601 time with an offset; the entry was left out';
      faults.push(formatFault({ where: `${where}.time`, found: told(time), accepted }));
      return;
    }
    instants.push(readInstant(timeMs, member(entry, 'data'), units, where, faults));
  });
  return instants;
}

function readInstant(
  timeMs: number,
  data: unknown,
  units: Conversions,
  where: string,
  faults: FormatFault[],
): ForecastInstant {
  const number = (details: unknown, name: Field): number | null => {
    const { field } = fields[name];
    const conversion = units.get(name);
    return conversion === undefined
      ? null
      : plausibleValue(name, member(details, field), conversion, `${where}…${field}`, faults);
  };
  const now = member(data, 'instant', 'details');
  const period = periodOf(data);
  const next = period === null ? undefined : member(data, period.key, 'details');
  return {
    ...unknownInstant(timeMs, DEFINITIONS.wind.heightM),
    windSpeedMs: number(now, 'windSpeedMs'),
    windSpeedLowMs: number(now, 'windSpeedLowMs'),
    windSpeedHighMs: number(now, 'windSpeedHighMs'),
    windGustMs: number(now, 'windGustMs') ?? number(next, 'windGustMs'),
    windFromDeg: number(now, 'windFromDeg'),
    cloudShare: number(now, 'cloudShare'),
    cloudLowShare: number(now, 'cloudLowShare'),
    cloudMediumShare: number(now, 'cloudMediumShare'),
    cloudHighShare: number(now, 'cloudHighShare'),
    fogShare: number(now, 'fogShare'),
    airTemperatureC: number(now, 'airTemperatureC'),
    dewPointC: number(now, 'dewPointC'),
    relativeHumidity: number(now, 'relativeHumidity'),
    pressureHpa: number(now, 'pressureHpa'),
    precipitationMm: number(next, 'precipitationMm'),
    precipitationFromMs: period === null ? null : timeMs,
    precipitationToMs: period === null ? null : timeMs + period.lengthMs,
    precipitationProbability: number(next, 'precipitationProbability'),
    thunderProbability: number(next, 'thunderProbability'),
  };
}

/** The shortest period that gives an amount; null where none does. */
function periodOf(data: unknown): (typeof periods)[number] | null {
  const gives = (key: string, field: string) => typeof member(data, key, 'details', field) === 'number';
  return (
    periods.find((p) => gives(p.key, 'precipitation_amount')) ??
    periods.find((p) => gives(p.key, 'probability_of_precipitation')) ??
    null
  );
}
