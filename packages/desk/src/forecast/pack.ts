/** The evening before: every site's forecast fetched at once, and what is not ready said. */
import {
  ageInWords,
  formatInstant,
  missingFromForecast,
  missingSentences,
  type Forecast,
  type PackAnswer,
  type PackedSite,
} from '@tepal/formats';
import { list, type Notebook, type Site } from '@tepal/notebook';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { exists, writeWhole } from '../files/write.ts';
import type { DeskForecasts } from './desk-forecasts.ts';
import { forecastCellOf } from './site-cell.ts';

/** What packing needs of a store. */
export interface PackStore {
  notebook(): Promise<Notebook>;
  /** The forecast's file of a site. */
  forecastPath(siteId: string): string;
}

const HOUR_MS = 3_600_000;
/** A forecast that ends before this has passed says nothing of tomorrow [ms]. */
const REACH_MS = 24 * HOUR_MS;
/** Older than this it is told as old [ms]: two issues of most services. */
const OLD_MS = 12 * HOUR_MS;

/**
 * Fetches the forecast of every site, or of those named, and puts each beside the notebook for the pages to read
 * without a network. Sites in one cell share one request. One that fails leaves the others, and its older file, as
 * they are.
 */
export async function packSites(parts: {
  readonly store: PackStore;
  readonly forecasts: DeskForecasts;
  readonly nowMs: number;
  readonly siteIds?: readonly string[];
}): Promise<PackAnswer> {
  const { store, forecasts, nowMs, siteIds } = parts;
  let sites: readonly Site[];
  try {
    sites = list(await store.notebook(), 'site');
  } catch (error) {
    const message = error instanceof DeskFault ? error.message : `${reasonOf(error)}.`;
    return { sites: [], notReady: [`The notebook does not open: ${message}`] };
  }
  const packed: PackedSite[] = [];
  for (const site of sites.filter(({ id }) => siteIds === undefined || siteIds.includes(id))) {
    packed.push(await packSite(store, forecasts, site, nowMs));
  }
  const none = sites.length === 0 ? ['There is no site in the notebook yet.'] : [];
  const notReady = packed.flatMap(({ siteName, ready, saying }) => (ready ? [] : [`${siteName}: ${saying}`]));
  return { sites: packed, notReady: [...none, ...notReady] };
}

async function packSite(
  store: PackStore,
  forecasts: DeskForecasts,
  site: Site,
  nowMs: number,
): Promise<PackedSite> {
  const named = { siteId: site.id, siteName: site.name };
  const nothing = (saying: string): PackedSite => ({
    ...named,
    ...{ ready: false, saying, source: null, issuedAt: null, ageH: null, untilTime: null, missing: [] },
  });
  try {
    const answer = await forecasts.forecast(forecastCellOf(site));
    if (!answer.ok) return nothing(answer.fault.message);
    const { forecast, bytes, how, ageMs, saying } = answer.value;
    const path = store.forecastPath(site.id);
    // An older answer stands in where there is nothing, but replaces nothing.
    if (how !== 'kept' || !(await exists(path))) {
      await mkdir(dirname(path), { recursive: true });
      await writeWhole(path, bytes, { replace: true });
    }
    const why = notReadyBecause(forecast, nowMs, ageMs) ?? (how === 'kept' ? saying : null);
    return {
      ...named,
      ready: why === null,
      saying: why ?? saying,
      source: forecast.source,
      issuedAt: forecast.issuedAtMs === null ? null : formatInstant(forecast.issuedAtMs),
      ageH: ageMs / HOUR_MS,
      untilTime: formatInstant(untilMs(forecast)),
      missing: missingSentences(missingFromForecast(forecast)),
    };
  } catch (error) {
    return nothing(error instanceof Error ? error.message : 'It failed for a reason that was not given.');
  }
}

const untilMs = (forecast: Forecast): number => forecast.instants.at(-1)?.timeMs ?? 0;

function notReadyBecause(forecast: Forecast, nowMs: number, ageMs: number): string | null {
  if (untilMs(forecast) < nowMs + REACH_MS) {
    return `The forecast reaches only to ${formatInstant(untilMs(forecast))}.`;
  }
  return ageMs > OLD_MS ? `The newest forecast is ${ageInWords(ageMs)} old.` : null;
}
