/** The library and the notebook as the pages' messages. */
import {
  DELIVERIES,
  deliveryInWords,
  deliveryLimitPx,
  frameWords,
  largestDelivery,
  outingVerdict,
  sightingsOf,
  siteDocument,
} from '@tepal/advice';
import {
  readForecast,
  type DaysAnswer,
  type Decision,
  type FramesAnswer,
  type LibraryFrame,
  type LibrarySeries,
  type MeasuredFrame,
  type RecordRow,
} from '@tepal/formats';
import { find, keptLists, list, type ReleasedPlace } from '@tepal/notebook';
import { readFile } from 'node:fs/promises';
import { releasedForPublic } from '../library/records.ts';
import type { Store } from './stores.ts';

const judged = DELIVERIES[0]!;

export function framesAnswer(store: Store): FramesAnswer {
  const { library } = store;
  const folder = store.photographs();
  const { frames, series, failed } = library.measuring(folder ?? '');
  const decisions = library.decisions();
  const names = library.names(folder ?? '');
  const usual = usualNames(series);
  const answered = frames.map(({ id, measured }) => libraryFrame(id, measured, decisions.get(id) ?? null));
  const idOf = new Map(answered.map((frame) => [frame.file, frame.id]));
  const first = answered[0];
  return {
    folder,
    folders: library.folders(),
    limitPx: first === undefined ? 1 : limitOf(first),
    verdict: outingVerdict(answered),
    series: series.map(({ files, best, ...one }): LibrarySeries => ({
      ...one,
      name: names.get(one.id) ?? usual.get(one.id) ?? one.id,
      frameIds: files.flatMap((file) => idOf.get(file) ?? []),
      bestId: idOf.get(best) ?? '',
    })),
    frames: answered,
    failed,
  };
}

/** One frame of the folder that is open; null where that folder does not hold it. */
export function frameAnswer(store: Store, id: string): LibraryFrame | null {
  const measured = store.library.measured(store.photographs() ?? '', id);
  return measured === null ? null : libraryFrame(id, measured, store.library.decision(id));
}

const limitOf = (frame: { widthPx: number; heightPx: number }) => deliveryLimitPx(frame, judged);

function libraryFrame(id: string, measured: MeasuredFrame, decision: Decision | null): LibraryFrame {
  const largest = largestDelivery(measured, measured.blur.sigmaPx);
  return {
    ...measured,
    id,
    words: frameWords(measured, limitOf(measured)),
    largestDelivery: largest === null ? null : deliveryInWords(measured, largest),
    decision,
  };
}

const months = [
  ...['January', 'February', 'March', 'April', 'May', 'June', 'July'],
  ...['August', 'September', 'October', 'November', 'December'],
];

/** "11 June, no. 3": counted within the day, for the page gives the times; by its first file without a time. */
function usualNames(series: readonly { readonly id: string; readonly startedAt: string | null }[]) {
  const counted = new Map<string, number>();
  return new Map(
    series.map(({ id, startedAt }) => {
      if (startedAt === null) return [id, id] as const;
      const [, month = '1', day = '1'] = startedAt.slice(0, 10).split('-');
      const date = `${Number(day)} ${months[Number(month) - 1]}`;
      const number = (counted.get(date) ?? 0) + 1;
      counted.set(date, number);
      return [id, `${date}, no. ${number}`] as const;
    }),
  );
}

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
