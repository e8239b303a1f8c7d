/** Forecasts that this device keeps: one for each site, and the answers of the services as they came. */
import type { Forecast, ForecastCache, KeptAnswer, Pause, StoreName } from '@tepal/formats';
import { createStore, get, set, type UseStore } from 'idb-keyval';

let opened: UseStore | null = null;
const store = () => (opened ??= createStore('tepal-forecasts', 'kept'));

const siteKey = (of: StoreName, siteId: string) => `site ${of} ${siteId}`;

/** A store that does not open (a private window) keeps nothing; the days then last until the page is closed. */
const passing = new Map<string, unknown>();

async function read<T>(key: string): Promise<T | null> {
  try {
    return (await get<T>(key, store())) ?? (passing.get(key) as T | undefined) ?? null;
  } catch {
    return (passing.get(key) as T | undefined) ?? null;
  }
}

async function write(key: string, value: unknown): Promise<void> {
  try {
    await set(key, value, store());
  } catch {
    passing.set(key, value);
  }
}

/** The forecast of a site; null where none was ever kept. */
export const keptForecast = (of: StoreName, siteId: string): Promise<Forecast | null> =>
  read<Forecast>(siteKey(of, siteId));

export const keepForecast = (of: StoreName, siteId: string, forecast: Forecast): Promise<void> =>
  write(siteKey(of, siteId), forecast);

/** What the client of `formats` keeps between runs. */
export const deviceForecastCache: ForecastCache = {
  answer: (url) => read<KeptAnswer>(`answer ${url}`),
  keepAnswer: (url, answer) => write(`answer ${url}`, answer),
  pause: (origin) => read<Pause>(`pause ${origin}`),
  keepPause: (origin, pause) => write(`pause ${origin}`, pause),
};
