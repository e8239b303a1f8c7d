/** Records put together by the month of the season in which they were seen, newest first. */
import type { RecordRow } from '@tepal/formats';
import { counted } from '../words/amounts.ts';
import { monthWords } from '../words/clock.ts';

export interface Season {
  readonly season: string;
  readonly records: readonly RecordRow[];
}

/** @returns months newest first, within each the newest day first; records without a date last */
export function bySeason(records: readonly RecordRow[]): readonly Season[] {
  const months = new Map<string, RecordRow[]>();
  const newestFirst = records.toSorted((a, b) =>
    a.eventDate < b.eventDate ? 1 : a.eventDate > b.eventDate ? -1 : 0,
  );
  for (const record of newestFirst) {
    const season = monthWords(record.eventDate);
    months.set(season, [...(months.get(season) ?? []), record]);
  }
  return [...months.entries()].map(([season, those]) => ({ season, records: those }));
}

/** The first sentence of the page: how many species, and what of them stays in the house. */
export function recordsSentence(records: readonly RecordRow[]): string {
  if (records.length === 0) return 'Nothing is recorded yet. Note the first sighting below.';
  const species = new Set(records.map(({ scientificName }) => scientificName)).size;
  const withheld = records.filter(({ leaves }) => leaves.startsWith('withheld')).length;
  const kept =
    withheld === 0
      ? 'each leaves the house with a coarse place only'
      : `the place of ${withheld === 1 ? 'one' : withheld.toLocaleString('en-GB')} stays in the house`;
  return `${counted(records.length, 'record')} of ${counted(species, 'species', 'species')}; ${kept}.`;
}
