/** Forecasts at the desk: the client of `formats` with this computer's network, disk and clock. */
import {
  createForecastClient,
  type ForecastAnswer,
  type ForecastCell,
  type ForecastFetch,
} from '@tepal/formats';
import { join } from 'node:path';
import { diskForecastCache } from './disk-cache.ts';
import type { ForecastSettings } from './forecast-settings.ts';

/** A service that says nothing for so long will not [ms]. */
const PATIENCE_MS = 20_000;

/** The platform's fetch, which gives up after a while. */
export const patientFetch: ForecastFetch = (url, { headers }) =>
  fetch(url, { headers, signal: AbortSignal.timeout(PATIENCE_MS) });

export interface DeskForecasts {
  readonly settings: ForecastSettings;
  /** The forecast of a cell from the service that the settings name. */
  forecast(cell: ForecastCell): Promise<ForecastAnswer>;
}

/**
 * @param desk.folder the data folder; the cache is `forecast-cache` in it
 * @param desk.fetch the network, unless it is this computer's
 * @param desk.now Unix time [ms], unless it is this computer's
 */
export function openForecasts(desk: {
  readonly folder: string;
  readonly version: string;
  readonly settings: ForecastSettings;
  readonly fetch?: ForecastFetch;
  readonly now?: () => number;
}): DeskForecasts {
  const { settings, version } = desk;
  const client = createForecastClient({
    fetch: desk.fetch ?? patientFetch,
    cache: diskForecastCache(join(desk.folder, 'forecast-cache')),
    now: desk.now ?? Date.now,
    asker: { version, contact: settings.contact },
    addresses: settings.addresses,
    ...(settings.catalogue === null ? {} : { catalogue: settings.catalogue }),
  });
  return { settings, forecast: (cell) => client.forecast(settings.source, cell) };
}
