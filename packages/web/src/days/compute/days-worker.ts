/**
 * The days, worked out beside the page: hours, windows and ranking of all sites, so that nothing on the page waits for
 * them. Forecasts come from this device; where an engine answers, its newer ones are taken over first.
 */
/// <reference lib="webworker" />
import { siteDocument, sightingsOf, type WhenAnswer } from '@tepal/advice';
import {
  createEngineClient,
  createForecastClient,
  formatInstant,
  missingFromForecast,
  missingSentences,
  readForecast,
  type Forecast,
  type ForecastClient,
  type PackedSite,
  type StoreName,
} from '@tepal/formats';
import type { Site } from '@tepal/notebook';
import { deviceForecastCache, keepForecast, keptForecast } from './device-forecasts.ts';
import { overviewOf, type SiteAnswer } from './overview.ts';
import type {
  Answering,
  AskName,
  DaysQuestion,
  DeviceForecastSettings,
  Overview,
  SiteDays,
  WorkerAsks,
} from './worker-messages.ts';

// The worker's own global, which the page's types call something else.
const worker = globalThis as unknown as DedicatedWorkerGlobalScope;

const engineOf = (store: StoreName) =>
  createEngineClient({ fetch: (url, init) => fetch(url, init), baseUrl: '', store });

/** A service that says nothing for so long will not [ms]. */
const patienceMs = 20_000;

function clientWith({ source, address }: DeviceForecastSettings): ForecastClient {
  return createForecastClient({
    fetch: (url, { headers }) => fetch(url, { headers, signal: AbortSignal.timeout(patienceMs) }),
    cache: deviceForecastCache,
    now: Date.now,
    asker: 'page',
    ...(address === null ? {} : { addresses: { [source]: address } }),
  });
}

/** The documents of the last question, for the sites that are drawn. */
let documents = new Map<string, { readonly site: Site; readonly when: WhenAnswer }>();
/** What each site's document was made from; an unchanged one is not made again. */
let madeFrom = new Map<string, string>();

/** Takes over the engine's forecasts that are newer than this device's. @returns whether the engine answered */
async function takeOver(store: StoreName, sites: readonly Site[]): Promise<boolean> {
  const engine = engineOf(store);
  let answered = false;
  // A handful at a time: forty at once would only queue at the desk.
  for (let at = 0; at < sites.length; at += 6) {
    const some = await Promise.all(
      sites.slice(at, at + 6).map(async ({ id }) => {
        const answer = await engine.siteForecast(id);
        // A page without an engine is told so by status 0, a static address by its own 404 or a page that is no answer.
        if (!answer.ok)
          return answer.fault.status === 404 && /^There is no forecast/.test(answer.fault.message);
        const kept = await keptForecast(store, id);
        const newer = (answer.value.forecast.issuedAtMs ?? Infinity) > (kept?.issuedAtMs ?? 0);
        if (kept === null || newer) await keepForecast(store, id, answer.value.forecast);
        return true;
      }),
    );
    answered ||= some.includes(true);
    if (!answered) return false;
  }
  return answered;
}

async function overview({ store, lists, engine, nowMs }: DaysQuestion): Promise<Overview> {
  const engineAnswered = engine && (await takeOver(store, lists.sites));
  const sightings = sightingsOf(lists);
  const listed = JSON.stringify([lists.subjects, lists.wantedPictures, lists.records, lists.freeHours]);
  const before = documents;
  const madeBefore = madeFrom;
  documents = new Map();
  madeFrom = new Map();
  const answers: SiteAnswer[] = [];
  for (const site of lists.sites) {
    const forecast = await keptForecast(store, site.id);
    if (forecast === null) {
      answers.push({ site, when: null, fault: `There is no forecast for ${site.name} yet.` });
      continue;
    }
    // The invented outing has a day of its own, which does not grow old; else a document holds for ten minutes.
    const now = store === 'invented' ? (forecast.issuedAtMs ?? nowMs) : nowMs;
    const key = [
      store,
      listed,
      JSON.stringify(site),
      forecast.source,
      forecast.issuedAtMs,
      Math.floor(now / 600_000),
    ].join('\n');
    const kept = madeBefore.get(site.id) === key ? before.get(site.id)?.when : undefined;
    try {
      const when = kept ?? siteDocument(site, lists, { forecast, nowMs: now, sightings });
      documents.set(site.id, { site, when });
      madeFrom.set(site.id, key);
      answers.push({ site, when, fault: null });
    } catch (fault) {
      const why = fault instanceof Error ? `${fault.message}.` : 'It cannot be worked out.';
      answers.push({ site, when: null, fault: `${site.name}: ${why}` });
    }
  }
  return overviewOf(answers, lists, { nowMs, sightings, engineAnswered });
}

function daysOf(site: Pick<Site, 'id' | 'name'>, when: WhenAnswer): SiteDays {
  return { siteId: site.id, siteName: site.name, when };
}

/** A forecast that ends before this has passed says nothing of tomorrow [ms]. */
const reachMs = 24 * 3_600_000;

async function fetchAll({ cells, settings, nowMs }: WorkerAsks['fetch']['ask']): Promise<PackedSite[]> {
  const client = clientWith(settings);
  const fetched: PackedSite[] = [];
  for (const { siteId, cell, why } of cells) {
    const named = { siteId, siteName: '' };
    const nothing = (saying: string): PackedSite => ({
      ...named,
      ...{ ready: false, saying, source: null, issuedAt: null, ageH: null, untilTime: null, missing: [] },
    });
    if (cell === null) {
      fetched.push(nothing(why ?? 'It has no position.'));
      continue;
    }
    const answer = await client.forecast(settings.source, cell);
    if (!answer.ok) {
      fetched.push(nothing(answer.fault.message));
      continue;
    }
    const { forecast, how, ageMs, saying } = answer.value;
    if (how !== 'kept' || (await keptForecast('mine', siteId)) === null) {
      await keepForecast('mine', siteId, forecast);
    }
    const untilMs = forecast.instants.at(-1)?.timeMs ?? 0;
    const reaches = untilMs >= nowMs + reachMs;
    fetched.push({
      ...named,
      ready: reaches && how !== 'kept',
      saying: reaches ? saying : `The forecast reaches only to ${formatInstant(untilMs)}.`,
      source: forecast.source,
      issuedAt: forecast.issuedAtMs === null ? null : formatInstant(forecast.issuedAtMs),
      ageH: ageMs / 3_600_000,
      untilTime: formatInstant(untilMs),
      missing: missingSentences(missingFromForecast(forecast)),
    });
  }
  return fetched;
}

async function give({ store, siteId, bytes, engine }: WorkerAsks['give']['ask']): Promise<string | null> {
  const read = readForecast(bytes);
  if (!read.ok) return read.fault.message;
  await keepForecast(store, siteId, read.value);
  if (!engine) return null;
  const given = await engineOf(store).giveForecast(siteId, new Uint8Array(bytes));
  return given.ok || [0, 404, 405, 501].includes(given.fault.status) ? null : given.fault.message;
}

async function stand({ site, cell, settings, nowMs }: WorkerAsks['stand']['ask']) {
  if (cell.cell === null) return { days: null, why: cell.why };
  const near = await nearestKept(site);
  const answer = near === null ? await clientWith(settings).forecast(settings.source, cell.cell) : null;
  if (near === null && answer !== null && !answer.ok) return { days: null, why: answer.fault.message };
  const forecast = near ?? (answer?.ok === true ? answer.value.forecast : null);
  if (forecast === null) return { days: null, why: 'There is no forecast for where you stand.' };
  const nothing = { sites: [site], subjects: [], wantedPictures: [], records: [], freeHours: [] };
  return { days: daysOf(site, siteDocument(site, nothing, { forecast, nowMs })), why: null };
}

/** A forecast that is kept for a site of the same cell or the next [°]; about 15 km. */
const sameWeatherDeg = 0.15;

async function nearestKept(site: Site): Promise<Forecast | null> {
  const { latitudeDeg, longitudeDeg } = site.position;
  for (const { site: other } of documents.values()) {
    const { position } = other;
    const near =
      Math.abs(position.latitudeDeg - latitudeDeg) < sameWeatherDeg &&
      Math.abs(position.longitudeDeg - longitudeDeg) < sameWeatherDeg;
    if (near) return keptForecast('mine', other.id);
  }
  return null;
}

const answers: { [K in AskName]: (ask: WorkerAsks[K]['ask']) => Promise<WorkerAsks[K]['answer']> } = {
  overview,
  site: async ({ siteId }) => {
    const found = documents.get(siteId);
    return found === undefined ? null : daysOf(found.site, found.when);
  },
  fetch: fetchAll,
  give,
  stand,
};

/** One question after the other: each may go on from what the one before left. */
let last: Promise<unknown> = Promise.resolve();

worker.addEventListener('message', ({ data }: MessageEvent<{ id: number; name: AskName; ask: never }>) => {
  const { id, name, ask } = data;
  last = last.then(async () => {
    let answering: Answering;
    try {
      answering = { id, ok: true, answer: await answers[name](ask) };
    } catch (fault) {
      answering = { id, ok: false, message: fault instanceof Error ? fault.message : 'It failed.' };
    }
    worker.postMessage(answering);
  });
});
