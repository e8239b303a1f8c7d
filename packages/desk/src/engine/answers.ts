/** The library and the notebook as the pages' messages. */
import { sightingsOf, siteDocument } from '@tepal/advice';
import { readForecast, type DaysAnswer } from '@tepal/formats';
import { keptLists } from '@tepal/notebook';
import { readFile } from 'node:fs/promises';
import type { Store } from './stores.ts';

export async function daysAnswer(store: Store, nowMs: number): Promise<DaysAnswer> {
  const kept = keptLists(await store.notebook());
  const sightings = sightingsOf(kept);
  const days: DaysAnswer['days'][number][] = [];
  const faults: string[] = [];
  for (const site of kept.sites) {
    const bytes = await readFile(store.forecastPath(site.id)).catch(() => null);
    if (bytes === null) {
      faults.push(`There is no forecast for ${site.name} yet; fetch it, or choose a file.`);
      continue;
    }
    const read = readForecast(bytes);
    if (!read.ok) {
      faults.push(`The forecast of ${site.name} cannot be used. ${read.fault.message}`);
      continue;
    }
    const forecast = read.value;
    // The invented outing has a day of its own, which does not grow old.
    const now = store.name === 'invented' ? (forecast.issuedAtMs ?? nowMs) : nowMs;
    const when = siteDocument(site, kept, { forecast, nowMs: now, sightings });
    days.push({ siteId: site.id, siteName: site.name, when });
  }
  return { days, faults };
}
