/** The days as the page holds them: worked out by the worker from what this device keeps. */
import { signal, type Signal } from '@preact/signals';
import type { DaysAnswer, ForecastSourceName, PackedSite, StoreName } from '@tepal/formats';
import type { KeptLists, Site } from '@tepal/notebook';
import { engineOf, type Asked } from '../../engine/engine.ts';
import { keep, kept } from '../../field/kept.ts';
import { notebookOf, readNotebook, type OpenNotebook } from '../../field/notebook.ts';
import { atDesk } from '../../field/peer.ts';
import { askWorker, type WorkerAnswer } from './ask-worker.ts';
import type { DeviceForecastSettings, Overview, SiteCell, SiteDays } from './worker-messages.ts';

/** What this device knows of fetching: whom it asks, and whether the photographer has asked it to. */
export interface Forecasting extends DeviceForecastSettings {
  /** Once forecasts were fetched by hand, newer ones are fetched as the page is opened. */
  readonly byItself: boolean;
}

export const forecasting = signal<Forecasting>({
  source: 'locationforecast',
  address: null,
  byItself: false,
});

let readSettings: Promise<void> | null = null;
/** Reads the settings that this device keeps; once. */
function settingsRead(): Promise<void> {
  return (readSettings ??= kept<Forecasting>('forecasting')
    .catch(() => undefined)
    .then((found) => {
      if (found !== undefined) forecasting.value = { ...forecasting.value, ...found };
    }));
}

export async function setForecasting(change: Partial<Forecasting>): Promise<void> {
  await settingsRead();
  forecasting.value = { ...forecasting.value, ...change };
  await keep('forecasting', forecasting.value).catch(() => undefined);
}

const overviews: Readonly<Record<StoreName, Signal<Asked<Overview>>>> = {
  mine: signal<Asked<Overview>>({ at: 'asking' }),
  invented: signal<Asked<Overview>>({ at: 'asking' }),
};
const kepts: Readonly<Record<StoreName, Signal<KeptLists | null>>> = {
  mine: signal(null),
  invented: signal(null),
};

export const overviewOf = (store: StoreName): Signal<Asked<Overview>> => overviews[store];
/** The notebook's lists, as they were when the days were last worked out. */
export const listsOf = (store: StoreName): Signal<KeptLists | null> => kepts[store];

/** Counts the questions, so that an answer to an older one is not shown over a newer. */
let questions = 0;

/** Reads the notebook and works the days out; the answer stands in `overviewOf`. */
export async function readDays(store: StoreName): Promise<void> {
  await settingsRead();
  const fault = await readNotebook(store);
  if (notebookOf(store).value === null) {
    overviews[store].value = { at: 'fault', message: fault ?? 'The notebook is not here.' };
    return;
  }
  await workOut(store, atDesk);
}

/** Works the days out again, after a change of the notebook or a new forecast. */
export async function workOut(store: StoreName, engine = false): Promise<void> {
  const open = notebookOf(store).peek();
  if (open === null) return;
  const lists = open.room.keptLists(open.notebook);
  kepts[store].value = lists;
  const question = ++questions;
  const answer = await askWorker('overview', { store, lists, engine, nowMs: Date.now() });
  if (question !== questions) return;
  overviews[store].value = answer.ok
    ? { at: 'here', value: answer.value }
    : { at: 'fault', message: answer.message };
}

export async function siteDays(siteId: string): Promise<SiteDays | null> {
  const answer = await askWorker('site', { siteId });
  return answer.ok ? answer.value : null;
}

/** So many sites' days are handed to another page. */
const handedSites = 3;

/**
 * The days of the sites that other pages speak of: the best few, and one that is named.
 *
 * @param siteId where one is, if that is known
 */
export async function daysOnDevice(store: StoreName, siteId: string | null): Promise<DaysAnswer['days']> {
  await readDays(store);
  const asked = overviews[store].peek();
  if (asked.at !== 'here') return [];
  const { windows, sites } = asked.value;
  const known = sites.filter(({ forecast }) => forecast !== null).map((site) => site.siteId);
  const best = [...new Set([...windows.map(({ site }) => site), ...known])].slice(0, handedSites);
  const ids = siteId === null || !known.includes(siteId) ? best : [...new Set([siteId, ...best])];
  return (await Promise.all(ids.map(siteDays))).filter((days) => days !== null);
}

function cellOf({ room }: OpenNotebook, site: Pick<Site, 'id' | 'position' | 'region'>): SiteCell {
  try {
    const found = room.forecastCellOfSite(site);
    return found.kind === 'cell'
      ? { siteId: site.id, cell: found.cell, why: null }
      : { siteId: site.id, cell: null, why: found.why };
  } catch {
    return { siteId: site.id, cell: null, why: 'Its position is on no map; correct it.' };
  }
}

/** How an address answers that has the pages but no engine. */
const noEngine = [0, 404, 405, 501];

export interface Fetched {
  readonly sites: readonly PackedSite[];
  readonly notReady: readonly string[];
}

/**
 * Fetches the forecast of every site: by the engine where there is one, else by this device. Only a coarse cell is
 * told, never a site.
 */
export async function fetchForecasts(): Promise<Fetched> {
  await setForecasting({ byItself: true });
  if (atDesk) {
    const answer = await engineOf('mine').fetchForecasts();
    if (answer.ok) {
      await workOut('mine', true);
      return answer.value;
    }
    if (!noEngine.includes(answer.fault.status)) return { sites: [], notReady: [answer.fault.message] };
  }
  const open = notebookOf('mine').peek();
  const lists = listsOf('mine').peek();
  if (open === null || lists === null) return { sites: [], notReady: ['The notebook is not open.'] };
  const cells = lists.sites.map((site) => cellOf(open, site));
  const answer = await askWorker('fetch', { cells, settings: forecasting.value, nowMs: Date.now() });
  if (!answer.ok) return { sites: [], notReady: [answer.message] };
  const nameOf = new Map(lists.sites.map(({ id, name }) => [id, name]));
  const sites = answer.value.map((one) => ({ ...one, siteName: nameOf.get(one.siteId) ?? '' }));
  await workOut('mine');
  return {
    sites,
    notReady: sites.flatMap(({ ready, siteName, saying }) => (ready ? [] : [`${siteName}: ${saying}`])),
  };
}

/** Takes a forecast file for a site. @returns null when it is taken, else why it cannot be used */
export async function giveForecast(
  store: StoreName,
  siteId: string,
  bytes: Uint8Array,
): Promise<string | null> {
  const answer = await askWorker('give', { store, siteId, bytes, engine: atDesk });
  const fault = answer.ok ? answer.value : answer.message;
  if (fault === null) await workOut(store);
  return fault;
}

/** The days of where one stands, which is kept nowhere. */
export async function standHere(
  position: Site['position'],
): Promise<WorkerAnswer<{ readonly days: SiteDays | null; readonly why: string | null }>> {
  const open = notebookOf('mine').peek();
  if (open === null) return { ok: false, message: 'The notebook is not open.' };
  const site: Site = {
    ...{ id: 'here', name: 'where you stand', region: null, position, shelter: 'grassy' },
    ...{ slopeDeg: null, aspectDeg: null, vegetationHeightM: null, landform: null },
    ...{ access: '', cautions: [], notes: '' },
  };
  const cell = cellOf(open, site);
  return askWorker('stand', { site, cell, settings: forecasting.value, nowMs: Date.now() });
}

export const sourceNames: readonly ForecastSourceName[] = ['locationforecast', 'mosmix', 'usGridPoints'];
