/**
 * One client for every source of forecasts, at the desk and on the phone alike: given a `fetch`, a store and a clock.
 * It takes a cell, never a site, and gives the forecast with how old it is.
 */
import { formatFault, type FormatFault } from '../../result.ts';
import { decodeText, member, parseJson } from '../../text.ts';
import type { Forecast } from '../forecast.ts';
import { readForecast } from '../read-forecast.ts';
import type { ForecastCell } from './forecast-cell.ts';
import {
  forecastSources,
  locationforecastUrl,
  MOSMIX_CATALOGUE,
  mosmixUrl,
  usGridUrl,
  usPointUrl,
  type ForecastSourceName,
} from './forecast-sources.ts';
import {
  politeClient,
  type HowItCame,
  type PoliteParts,
  type PoliteRequest,
  type ServiceFault,
} from './polite-get.ts';
import { nearestStation, readStations } from './stations.ts';

export interface FetchedForecast {
  readonly forecast: Forecast;
  /** The document as the service gave it, to be kept as a file. */
  readonly bytes: Uint8Array;
  readonly how: HowItCame;
  /** When the document came, Unix time [ms]. */
  readonly fetchedAtMs: number;
  /** When the service last said that it still holds, Unix time [ms]. */
  readonly checkedAtMs: number;
  /** How old it is by its own time of issue, else by when it came [ms], at least 0. */
  readonly ageMs: number;
  /** In a sentence: how old it is, and why there is nothing newer if so. */
  readonly saying: string;
}

export type ForecastAnswer =
  | { readonly ok: true; readonly value: FetchedForecast }
  | { readonly ok: false; readonly fault: ServiceFault };

export interface ForecastClient {
  forecast(source: ForecastSourceName, cell: ForecastCell): Promise<ForecastAnswer>;
}

/** Who asks: a page, which the browser names, or a program, with the way to reach who runs it. */
export type ForecastAsker = 'page' | { readonly version: string; readonly contact: string | null };

export interface ForecastClientOptions extends Omit<PoliteParts, 'userAgent'> {
  readonly asker: ForecastAsker;
  /** Other addresses than the services' own, without a slash at the end. */
  readonly addresses?: { readonly [S in ForecastSourceName]?: string };
  /** Another address for the catalogue of MOSMIX stations. */
  readonly catalogue?: string;
}

/**
 * A way to reach who asks, as a User-Agent can hold it: an e-mail or web address.
 *
 * @returns null where the text is none
 */
export function forecastContact(text: string): string | null {
  const told = text.trim();
  const usable = /^[\x21-\x7e]{3,120}$/.test(told) && /[@.]/.test(told) && !/[()<>\\]/.test(told);
  return usable ? told : null;
}

function userAgentOf(asker: ForecastAsker, contact: string | null): string | null {
  if (asker === 'page') return null;
  return contact === null ? `Tepal/${asker.version}` : `Tepal/${asker.version} (${contact})`;
}

const CATALOGUE_HOLDS_MS = 30 * 24 * 3_600_000;
const GRID_HOLDS_MS = 7 * 24 * 3_600_000;
/** Beyond this a station says little of a place [km]. Ours. */
const FARTHEST_STATION_KM = 60;

/** A client over a platform's `fetch` and a store. */
export function createForecastClient(options: ForecastClientOptions): ForecastClient {
  const { asker, fetch, cache, now } = options;
  const contact = asker === 'page' || asker.contact === null ? null : forecastContact(asker.contact);
  const get = politeClient({ fetch, cache, now, userAgent: userAgentOf(asker, contact) });
  const addressOf = (source: ForecastSourceName) =>
    options.addresses?.[source] ?? forecastSources[source].address;

  const urls: {
    readonly [S in ForecastSourceName]: (cell: ForecastCell) => Promise<UrlOrFault>;
  } = {
    locationforecast: async (cell) => ({ url: locationforecastUrl(addressOf('locationforecast'), cell) }),
    mosmix: async (cell) => {
      const catalogue = options.catalogue ?? MOSMIX_CATALOGUE;
      const got = await get(request(catalogue, 'text/plain, */*', CATALOGUE_HOLDS_MS, checkCatalogue));
      if (!got.ok) return { fault: got.fault };
      const stations = readStations(catalogueText(got.answer.bytes));
      const found = stations.ok ? nearestStation(stations.value, cell) : null;
      if (found === null || found.distanceKm > FARTHEST_STATION_KM) {
        return nothingHere(`There is no DWD station within ${FARTHEST_STATION_KM} km of the cell.`);
      }
      return { url: mosmixUrl(addressOf('mosmix'), found.station.id) };
    },
    usGridPoints: async (cell) => {
      const address = addressOf('usGridPoints');
      const { accept } = forecastSources.usGridPoints;
      const got = await get(request(usPointUrl(address, cell), accept, GRID_HOLDS_MS, checkPoint));
      if (!got.ok) return { fault: got.fault };
      const grid = gridOf(got.answer.bytes);
      return grid === null
        ? nothingHere('The service names no grid for the cell.')
        : { url: usGridUrl(address, grid) };
    },
  };

  return {
    async forecast(source, cell) {
      const { accept, holdsMs, needsContact, title } = forecastSources[source];
      if (needsContact && asker !== 'page' && contact === null) {
        const message = `${title} asks for a way to reach you: give an e-mail or web address as the contact.`;
        return { ok: false, fault: { status: null, message, retryAtMs: null } };
      }
      const target = await urls[source](cell);
      if ('fault' in target) return { ok: false, fault: target.fault };
      const got = await get(request(target.url, accept, holdsMs, checkForecast));
      if (!got.ok) return got;
      const { bytes, how, why, fetchedAtMs, checkedAtMs } = got.answer;
      const read = readForecast(bytes);
      if (!read.ok) {
        return { ok: false, fault: { status: null, message: read.fault.message, retryAtMs: null } };
      }
      const ageMs = Math.max(0, now() - (read.value.issuedAtMs ?? fetchedAtMs));
      const age = `The forecast is ${ageInWords(ageMs)} old.`;
      const saying = why === null ? age : `${age} ${why}`;
      return {
        ok: true,
        value: { forecast: read.value, bytes, how, fetchedAtMs, checkedAtMs, ageMs, saying },
      };
    },
  };
}

type UrlOrFault = { readonly url: string } | { readonly fault: ServiceFault };

const nothingHere = (message: string): UrlOrFault => ({ fault: { status: null, message, retryAtMs: null } });

const request = (
  url: string,
  accept: string,
  holdsMs: number,
  check: PoliteRequest['check'],
): PoliteRequest => ({ url, accept, holdsMs, check });

function checkForecast(bytes: Uint8Array): FormatFault | null {
  const read = readForecast(bytes);
  return read.ok ? null : read.fault;
}

/** The catalogue is in Latin letters of one byte. */
const catalogueText = (bytes: Uint8Array) => decodeText(bytes, 'iso-8859-1');

function checkCatalogue(bytes: Uint8Array): FormatFault | null {
  const read = readStations(catalogueText(bytes));
  return read.ok ? null : read.fault;
}

function checkPoint(bytes: Uint8Array): FormatFault | null {
  if (gridOf(bytes) !== null) return null;
  return formatFault({ where: 'points', found: 'no grid', accepted: 'gridId, gridX and gridY' });
}

function gridOf(bytes: Uint8Array): { office: string; x: number; y: number } | null {
  const json = parseJson(decodeText(bytes), 'points');
  const properties = json.ok ? member(json.value, 'properties') : undefined;
  const [office, x, y] = ['gridId', 'gridX', 'gridY'].map((name) => member(properties, name));
  if (typeof office !== 'string' || !/^[A-Z0-9]{2,6}$/.test(office)) return null;
  const whole = (value: unknown): value is number => Number.isInteger(value);
  return whole(x) && whole(y) ? { office, x, y } : null;
}

/** "20 min", "5 h", "3 days" */
export function ageInWords(ageMs: number): string {
  const minutes = Math.floor(ageMs / 60_000);
  if (minutes < 1) return 'less than a minute';
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  return hours < 48 ? `${hours} h` : `${Math.floor(hours / 24)} days`;
}
