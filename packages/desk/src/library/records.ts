/** Records out to a Darwin Core archive and in from one; every place goes through the notebook's release. */
import { readArchive, readOccurrencesCsv, writeArchive } from '@tepal/formats';
import {
  change,
  find,
  fromOccurrence,
  list,
  noPlaceNoted,
  privatePlaceOfRecord,
  privateWords,
  release,
  toOccurrence,
  type KeptRecord,
  type Notebook,
  type PlaceWish,
  type ReleasedPlace,
} from '@tepal/notebook';
import { randomUUID } from 'node:crypto';
import { DeskFault } from '../files/faults.ts';

/**
 * The place of a record as the public may have it. A wish that is refused for this record becomes a coarse one, and
 * the rule says so.
 */
export function releasedForPublic(notebook: Notebook, record: KeptRecord, wish: PlaceWish): ReleasedPlace {
  const site = record.siteId === null ? null : find(notebook, 'site', record.siteId);
  const sealed = privatePlaceOfRecord(record, site);
  if (sealed === null) return noPlaceNoted();
  const subject = record.subjectId === null ? null : find(notebook, 'subject', record.subjectId);
  const sensitivity = subject?.sensitivity ?? null;
  const answer = release(sealed, { audience: 'public', wish, sensitivity });
  if (answer.ok) return answer.place;
  const coarser = release(sealed, { audience: 'public', wish: 'coarse', sensitivity });
  if (!coarser.ok) throw new DeskFault(coarser.why);
  return coarser.place;
}

export function exportRecords(
  notebook: Notebook,
  options: { readonly wish: PlaceWish; readonly nowMs: number },
): { readonly bytes: Uint8Array; readonly occurrences: number; readonly withheld: readonly string[] } {
  const secrets = privateWords(notebook);
  const rules = new Map<string, number>();
  const rows = list(notebook, 'record').map((record) => {
    const place = releasedForPublic(notebook, record, options.wish);
    if (place.kind !== 'exact') rules.set(place.rule, (rules.get(place.rule) ?? 0) + 1);
    const subject = record.subjectId === null ? null : find(notebook, 'subject', record.subjectId);
    return toOccurrence(record, subject, place, { secrets });
  });
  const recorders = new Set(list(notebook, 'record').map(({ recordedBy }) => recordedBy));
  const { bytes, leftOut } = writeArchive(rows, {
    packageId: 'tepal-records',
    title: 'Records from a photographer’s notebook',
    creatorName: [...recorders].find((name) => name !== null) ?? 'not named',
    publishedOn: new Date(options.nowMs).toISOString().slice(0, 10),
    language: 'en',
    abstract: 'Sightings with photographs as evidence. Places are given as exactly as their rules allow.',
    rights: 'All rights with the recorder unless a record says otherwise.',
  });
  return {
    bytes,
    occurrences: rows.length,
    withheld: [
      ...[...rules].map(([rule, count]) => `places of ${count} records: ${rule}`),
      ...leftOut.map((column) => `the column ${column}: no term of the standard`),
    ],
  };
}

export interface Imported {
  readonly notebook: Notebook;
  readonly occurrences: number;
  readonly notUnderstood: readonly string[];
  readonly refused: number;
}

/** @throws DeskFault with status 3 when the file is no archive and no table */
export function importRecords(
  notebook: Notebook,
  bytes: Uint8Array,
  options: { readonly file: string; readonly nowMs: number },
): Imported {
  const zipped = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const read = zipped ? readArchive(bytes) : readOccurrencesCsv(bytes);
  if (!read.ok) throw new DeskFault(`${options.file}: ${read.fault.message}`, 3);
  const told: string[] = [...read.warnings, ...read.value.notUnderstood];
  const terms = new Map<string, number>();
  const records: KeptRecord[] = [];
  let refused = 0;
  read.value.occurrences.forEach((row, i) => {
    const found = fromOccurrence(row, `r-${randomUUID()}`);
    if (!found.ok) {
      refused += 1;
      told.push(`row ${i + 1}: ${found.why}`);
      return;
    }
    for (const term of found.notUnderstood) terms.set(term, (terms.get(term) ?? 0) + 1);
    records.push(found.record);
  });
  for (const [term, count] of terms) told.push(`${term}: kept as it came in ${count} records`);
  const filled =
    records.length === 0
      ? notebook
      : change(
          notebook,
          { message: `records from ${options.file.split(/[\\/]/).pop()}`, timeMs: options.nowMs },
          (pen) => {
            for (const record of records) pen.put('record', record);
          },
        );
  return { notebook: filled, occurrences: records.length, notUnderstood: told, refused };
}
