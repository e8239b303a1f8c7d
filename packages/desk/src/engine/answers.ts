/** The library and the notebook as the pages' messages. */
import { sightingsOf, siteDocument } from '@tepal/advice';
import { readForecast, type DaysAnswer, type RecordRow } from '@tepal/formats';
import { find, keptLists, list, releasedForPublic, type ReleasedPlace } from '@tepal/notebook';
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

export async function recordRows(store: Store): Promise<readonly RecordRow[]> {
  const notebook = await store.notebook();
  return list(notebook, 'record').map((record) => {
    const subject = record.subjectId === null ? null : find(notebook, 'subject', record.subjectId);
    const site = record.siteId === null ? null : find(notebook, 'site', record.siteId);
    return {
      id: record.id,
      scientificName: subject?.scientificName ?? record.verbatimName ?? '',
      commonName: subject === null ? null : (Object.values(subject.commonNames)[0] ?? null),
      eventDate: record.eventDate,
      siteName: site?.name ?? null,
      count: record.individualCount,
      remarks: record.remarks === '' ? null : record.remarks,
      frameIds: record.evidence.flatMap((hash) => store.library.frameOfHash(hash) ?? []),
      leaves: leavesInWords(releasedForPublic(notebook, record, 'coarse')),
    };
  });
}

function leavesInWords(place: ReleasedPlace): string {
  if (place.kind === 'withheld')
    return place.informationWithheld === null ? 'no place was noted' : 'withheld';
  if (place.kind === 'exact') return 'the exact place';
  const step = place.coordinatePrecision;
  const uncertainty = place.coordinateUncertaintyInMeters;
  if (step === undefined || uncertainty === undefined) return place.regionName ?? 'the region';
  const metres =
    uncertainty >= 10_000 ? `${Math.round(uncertainty / 1000)} km` : `${Math.round(uncertainty)} m`;
  return `${step}° cell, ± ${metres}`;
}
