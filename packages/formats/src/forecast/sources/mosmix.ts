/**
 * DWD's MOSMIX at one station, as KMZ or as the KML inside it: hourly for some ten days, with radiation, temperature
 * 5 cm above the ground and the chance of fog, which the other sources lack.
 *
 * Totals, means and largest values are written at the *end* of their hour; here they stand at its start, as those of
 * every source do, so the value of 06:00 moves to 05:00.
 *
 * @source DWD, MOSMIX element names and definitions (as public readers carry them; the authoritative list is DWD's
 *   MetElementDefinition.xml, not reachable here); FS 9.1 (B)
 */
import { formatFault, refused, told, understood, type FormatFault, type Result } from '../../result.ts';
import { parseInstantMs } from '../../time.ts';
import { attributeOf, childOf, childrenOf, textOf, type XmlElement } from '../../xml.ts';
import { definitionSentences, type ForecastDefinitions } from '../definitions.ts';
import { unknownInstant, type Forecast, type ForecastInstant, type ForecastQuantity } from '../forecast.ts';
import { plausible, plausibleValue } from '../plausible.ts';
import { inOrder, reportGaps, shortened } from '../time-series.ts';
import { conversionFrom } from '../units.ts';

interface Element {
  /** Names in order of preference: the first that the document has is taken. */
  readonly names: readonly string[];
  readonly unit: string;
  /** Whether the value speaks of the hour that ends at its time. */
  readonly ofHourBefore?: true;
}

const elements: { readonly [Q in ForecastQuantity]?: Element } = {
  windSpeedMs: { names: ['FF'], unit: 'm/s' },
  // The meteorological direction, from; a converter of the service itself labels it "to" (FS 9.1, mistake 8).
  windFromDeg: { names: ['DD'], unit: 'degrees' },
  windGustMs: { names: ['FX1'], unit: 'm/s', ofHourBefore: true },
  windSpeedErrorMs: { names: ['E_FF'], unit: 'm/s' },
  cloudShare: { names: ['N', 'Neff'], unit: '%' },
  cloudLowShare: { names: ['Nl'], unit: '%' },
  cloudMediumShare: { names: ['Nm'], unit: '%' },
  cloudHighShare: { names: ['Nh'], unit: '%' },
  airTemperatureC: { names: ['TTT'], unit: 'K' },
  airTemperatureErrorK: { names: ['E_TTT'], unit: 'K' },
  dewPointC: { names: ['Td'], unit: 'K' },
  groundTemperatureC: { names: ['T5cm'], unit: 'K' },
  pressureHpa: { names: ['PPPP'], unit: 'Pa' },
  visibilityM: { names: ['VV'], unit: 'm' },
  radiationWm2: { names: ['Rad1h'], unit: 'kJ/m2', ofHourBefore: true },
  sunshineShare: { names: ['SunD1'], unit: 's', ofHourBefore: true },
  fogProbability: { names: ['wwM'], unit: '%', ofHourBefore: true },
  precipitationMm: { names: ['RR1c', 'RR1'], unit: 'kg/m2', ofHourBefore: true },
  precipitationProbability: { names: ['R101'], unit: '%', ofHourBefore: true },
  thunderProbability: { names: ['wwT'], unit: '%', ofHourBefore: true },
};

const DEFINITIONS: ForecastDefinitions = {
  wind: { heightM: 10, statistic: 'mean', averagedMin: 10 },
  gust: { averagedS: null, largestOf: 'hourThatFollows' },
  cloudLayers: { mediumFromM: 2000, highFromM: 7000 },
  precipitation: { interval: 'follows', probabilityOfAtLeastMm: 0.1 },
  radiation: { averagedMin: 60 },
  groundTemperature: { heightM: 0.05 },
  fog: { kind: 'probability', visibilityBelowM: 1000 },
  thunder: { intervalH: 1 },
  airHeightM: 2,
};

const HOUR_MS = 3_600_000;
const STEPS = 'ForecastTimeSteps';
const MAX_STEPS = 20_000;
const ONE_STATION = 'a file of a single station (MOSMIX_L/single_stations)';

/** Whether a KML root holds point forecasts of this kind. */
export function looksLikeMosmix(root: XmlElement): boolean {
  return root.local === 'kml' && productOf(root) !== undefined;
}

/**
 * A station's MOSMIX as a forecast.
 *
 * @param root the KML's root element
 * @returns refused when it has no times, no or several stations, or no place on Earth
 */
export function readMosmix(root: XmlElement): Result<Forecast> {
  const product = productOf(root);
  const stations = placemarksOf(root);
  const station = stations[0];
  if (product === undefined || station === undefined) {
    return refused({ where: 'kml', found: 'no station', accepted: ONE_STATION });
  }
  if (stations.length > 1) {
    return refused({ where: 'kml', found: `${stations.length} stations`, accepted: ONE_STATION });
  }
  const place = readPlace(station);
  if (!place.ok) return place;
  const faults: FormatFault[] = [];
  const times = readTimes(product, faults);
  if (!times.ok) return times;

  const columns = readColumns(station, times.value, undefinedSign(product), faults);
  const instants = inOrder(instantsOf(times.value, columns), STEPS, faults);
  reportGaps(instants, STEPS, faults, HOUR_MS);
  const told40 = shortened(faults);
  const [id, name] = [textOf(childOf(station, 'name')), textOf(childOf(station, 'description'))];
  return understood(
    {
      source: `DWD MOSMIX, station ${[id, name].filter((part) => part !== '').join(' ')}`.trim(),
      issuedAtMs: parseInstantMs(textOf(childOf(product, 'IssueTime'))),
      ...place.value,
      credit: 'Data basis: Deutscher Wetterdienst, CC BY 4.0',
      instants,
      definitions: DEFINITIONS,
      notes: [...definitionSentences(DEFINITIONS), 'The forecast is for the station, not for the site.'],
      faults: told40,
    },
    told40.map((fault) => fault.message),
  );
}

function productOf(root: XmlElement): XmlElement | undefined {
  const data = documentOf(root).flatMap((one) => childrenOf(one, 'ExtendedData'));
  return data.flatMap((one) => childrenOf(one, 'ProductDefinition'))[0];
}

const placemarksOf = (root: XmlElement): readonly XmlElement[] =>
  documentOf(root).flatMap((one) => childrenOf(one, 'Placemark'));

const documentOf = (root: XmlElement): readonly XmlElement[] => childrenOf(root, 'Document');

function undefinedSign(product: XmlElement): string {
  const format = childOf(product, 'FormatCfg');
  const sign = format === undefined ? '' : textOf(childOf(format, 'DefaultUndefSign'));
  return sign === '' ? '-' : sign;
}

function readPlace(
  station: XmlElement,
): Result<{ latitudeDeg: number; longitudeDeg: number; altitudeM: number | null }> {
  const point = childOf(station, 'Point');
  const text = point === undefined ? '' : textOf(childOf(point, 'coordinates'));
  const [longitudeDeg = Number.NaN, latitudeDeg = Number.NaN, altitude = Number.NaN] = text
    .split(',')
    .map((part) => (part.trim() === '' ? Number.NaN : Number(part)));
  if (Math.abs(longitudeDeg) <= 180 && Math.abs(latitudeDeg) <= 90) {
    const altitudeM = Math.abs(altitude) <= 9000 ? altitude : null;
    return understood({ latitudeDeg, longitudeDeg, altitudeM });
  }
  const accepted = 'longitude,latitude,altitude in degrees and m';
  return refused({ where: 'Placemark.Point.coordinates', found: told(text), accepted });
}

function readTimes(product: XmlElement, faults: FormatFault[]): Result<readonly (number | null)[]> {
  const steps = childOf(product, STEPS);
  const written = steps === undefined ? [] : childrenOf(steps, 'TimeStep').map(textOf);
  const accepted = 'one or more times in ISO 8601 with an offset';
  if (written.length > MAX_STEPS) {
    return refused({ where: STEPS, found: `${written.length} times`, accepted: `at most ${MAX_STEPS}` });
  }
  const times = written.map((text, i) => {
    const timeMs = parseInstantMs(text);
    if (timeMs === null) faults.push(formatFault({ where: `${STEPS}[${i}]`, found: told(text), accepted }));
    return timeMs;
  });
  if (times.some((timeMs) => timeMs !== null)) return understood(times);
  return refused({ where: STEPS, found: `${written.length} entries, none with a time`, accepted });
}

type Columns = ReadonlyMap<ForecastQuantity, readonly (number | null)[]>;

/** Each quantity's values, one for every time; an element whose count does not fit cannot be told apart in time. */
function readColumns(
  station: XmlElement,
  times: readonly unknown[],
  undefinedAs: string,
  faults: FormatFault[],
): Columns {
  const data = childrenOf(station, 'ExtendedData').flatMap((one) => childrenOf(one, 'Forecast'));
  const written = new Map(data.map((one) => [attributeOf(one, 'elementName') ?? '', textOf(one)]));
  const columns = new Map<ForecastQuantity, readonly (number | null)[]>();
  for (const [quantity, { names, unit }] of Object.entries(elements) as [ForecastQuantity, Element][]) {
    const conversion = conversionFrom(plausible[quantity].quantity, unit);
    const name = names.find((one) => written.has(one));
    if (name === undefined || conversion === null) continue;
    const values = (written.get(name) ?? '').split(/\s+/).filter((text) => text !== '');
    if (values.length !== times.length) {
      const accepted = `${times.length}, one for every time; the element was left out`;
      faults.push(formatFault({ where: name, found: `${values.length} values`, accepted }));
      continue;
    }
    columns.set(
      quantity,
      values.map((text, i) => {
        if (text === undefinedAs) return null;
        const number = /^[-+]?[\d.]+(e[-+]?\d+)?$/i.test(text) ? Number(text) : text;
        return plausibleValue(quantity, number, conversion, `${name}[${i}]`, faults);
      }),
    );
  }
  return columns;
}

function instantsOf(times: readonly (number | null)[], columns: Columns): ForecastInstant[] {
  const indexAt = new Map(times.map((timeMs, i) => [timeMs, i]));
  return times.flatMap((timeMs, i) => {
    if (timeMs === null) return [];
    const endsAt = indexAt.get(timeMs + HOUR_MS);
    const values = [...columns].map(([quantity, column]) => {
      const at = elements[quantity]?.ofHourBefore === true ? endsAt : i;
      return [quantity, at === undefined ? null : (column[at] ?? null)] as const;
    });
    const instant: ForecastInstant = {
      ...unknownInstant(timeMs, DEFINITIONS.wind.heightM),
      ...(Object.fromEntries(values) as { [Q in ForecastQuantity]?: number | null }),
    };
    const spoken = instant.precipitationMm !== null || instant.precipitationProbability !== null;
    return [
      {
        ...instant,
        precipitationFromMs: spoken ? timeMs : null,
        precipitationToMs: spoken ? timeMs + HOUR_MS : null,
      },
    ];
  });
}
