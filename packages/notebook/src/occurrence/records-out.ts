/** Records out to an archive or a recorders' table; every place goes through `release`. */
import { formatInstant, writeArchive, writeRecorderTable } from '@tepal/formats';
import { DomainError } from '@tepal/science';
import { find, list } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import type { KeptRecord } from '../kept/record.ts';
import { speciesToAsk } from '../names/match-records.ts';
import { privatePlaceOfRecord } from '../place/private-place.ts';
import { privateWords } from '../place/private-words.ts';
import {
  noPlaceNoted,
  release,
  type Audience,
  type PlaceWish,
  type ReleasedPlace,
} from '../place/release.ts';
import { sensitivitiesHere, type SensitivitiesHere } from '../place/sensitivity-here.ts';
import { toOccurrence } from './to-occurrence.ts';
import { toRecorderRow } from './to-recorder-row.ts';

/**
 * The place of a record as an audience may have it, by the most sensitive species recorded there. A wish that is
 * refused for this record becomes a coarse one, and the rule says so.
 *
 * @throws DomainError where a confidential recipient was not confirmed
 */
export function releasedFor(
  notebook: Notebook,
  record: KeptRecord,
  audience: Audience,
  wish: PlaceWish,
): ReleasedPlace {
  const site = record.siteId === null ? null : find(notebook, 'site', record.siteId);
  const sealed = privatePlaceOfRecord(record, site);
  if (sealed === null) return noPlaceNoted();
  const sensitivity = hereIn(notebook).of(record);
  const answer = release(sealed, { audience, wish, sensitivity });
  if (answer.ok) return answer.place;
  const coarser = release(sealed, { audience, wish: 'coarse', sensitivity });
  if (!coarser.ok) throw new DomainError('notOneOf', 'a confirmed recipient', 'audience', coarser.why);
  return coarser.place;
}

const known = new WeakMap<Notebook, SensitivitiesHere>();
/** A notebook is a value that does not change, so its places are looked through once. */
function hereIn(notebook: Notebook): SensitivitiesHere {
  const before = known.get(notebook);
  if (before !== undefined) return before;
  const here = sensitivitiesHere(notebook);
  known.set(notebook, here);
  return here;
}

/** The place of a record as anybody may have it. */
export function releasedForPublic(notebook: Notebook, record: KeptRecord, wish: PlaceWish): ReleasedPlace {
  return releasedFor(notebook, record, 'public', wish);
}

/** To whom records go, as what, and how exact. */
export interface ExportOptions {
  readonly wish: PlaceWish;
  /** The public unless said. */
  readonly audience?: Audience;
  /** An archive unless said. */
  readonly as?: 'archive' | 'table';
  /** Whose common names stand in a table; null for none. */
  readonly language?: string | null;
  readonly nowMs: number;
}

/** What leaves: the file, and what is told about it. */
export interface Exported {
  readonly bytes: Uint8Array;
  readonly occurrences: number;
  readonly withheld: readonly string[];
  /** Records in it, and how many of them with their exact place. */
  readonly recordIds: readonly string[];
  readonly exactPlaces: number;
  /** Species whose sensitivity nobody said yet, to be asked once each. */
  readonly toAsk: readonly string[];
}

/**
 * Every record as an archive or a table.
 *
 * @throws DomainError where a confidential recipient was not confirmed
 */
export function exportRecords(notebook: Notebook, options: ExportOptions): Exported {
  const { wish, audience = 'public', as = 'archive', language = null } = options;
  const secrets = privateWords(notebook);
  const rules = new Map<string, number>();
  const records = list(notebook, 'record').map((record) => {
    const place = releasedFor(notebook, record, audience, wish);
    if (place.kind !== 'exact') rules.set(place.rule, (rules.get(place.rule) ?? 0) + 1);
    const subject = record.subjectId === null ? null : find(notebook, 'subject', record.subjectId);
    return { record, subject, place };
  });
  const withheld = [...rules].map(([rule, count]) => `places of ${count} records: ${rule}`);
  const about = {
    occurrences: records.length,
    recordIds: records.map(({ record }) => record.id),
    exactPlaces: records.filter(({ place }) => place.kind === 'exact').length,
    toAsk: speciesToAsk(notebook).map(({ scientificName }) => scientificName),
  };
  if (as === 'table') {
    const rows = records.map(({ record, subject, place }) =>
      toRecorderRow(record, subject, place, { secrets, language }),
    );
    return { ...about, bytes: new TextEncoder().encode(writeRecorderTable(rows)), withheld };
  }
  const rows = records.map(({ record, subject, place }) => toOccurrence(record, subject, place, { secrets }));
  const recorders = new Set(records.map(({ record }) => record.recordedBy));
  const { bytes, leftOut } = writeArchive(rows, {
    packageId: 'tepal-records',
    title: 'Records from a photographer’s notebook',
    creatorName: [...recorders].find((name) => name !== null) ?? 'not named',
    publishedOn: formatInstant(options.nowMs).slice(0, 10),
    language: 'en',
    abstract: 'Sightings with photographs as evidence. Places are given as exactly as their rules allow.',
    rights: 'All rights with the recorder unless a record says otherwise.',
  });
  return {
    ...about,
    bytes,
    withheld: [...withheld, ...leftOut.map((column) => `the column ${column}: no term of the standard`)],
  };
}
