/** A Darwin Core occurrence as a record. */
import { squareOfGridReference } from '@tepal/science';
import { readKept } from '../document/check-kept.ts';
import type { Position } from '../kept/position.ts';
import type { KeptRecord } from '../kept/record.ts';
import type { OccurrenceRow } from './to-occurrence.ts';

/** A row as it was understood. */
export type ReadOccurrence =
  | {
      readonly ok: true;
      readonly record: KeptRecord;
      /** Terms that have no field here or could not be read; their texts are kept in the record's `extraTerms`. */
      readonly notUnderstood: readonly string[];
    }
  | { readonly ok: false; readonly why: string };

const CERTAINTY: Readonly<Record<string, KeptRecord['certainty']>> = {
  'cf.': 'likely',
  '?': 'unsure',
};

// What a row of ours says again on its own when it is written.
function implied(term: string, text: string, record: { id: string; position: Position | null }): boolean {
  if (term === 'occurrenceID') return text === record.id;
  if (term === 'basisOfRecord') return text === 'HumanObservation';
  if (term === 'geodeticDatum') return record.position !== null;
  return term === 'occurrenceStatus' && /^(detected|present|notdetected|absent)$/i.test(text);
}

/**
 * The record of a row. Nothing is dropped: a term without a field of its own stays in `extraTerms`.
 *
 * @param id identifier of the new record, used if the row's `occurrenceID` cannot be one
 */
export function fromOccurrence(row: OccurrenceRow, id: string): ReadOccurrence {
  const used = new Set<string>();
  const take = (term: string): string | null => {
    const text = row[term]?.trim() ?? '';
    if (text !== '') used.add(term);
    return text === '' ? null : text;
  };
  const number = (term: string): number | null => {
    const text = row[term]?.trim() ?? '';
    const value = text === '' ? NaN : Number(text);
    if (!Number.isFinite(value)) return null;
    used.add(term);
    return value;
  };
  const occurrenceId = row['occurrenceID'] ?? '';
  const base = {
    id: /^[A-Za-z0-9_-]{1,100}$/.test(occurrenceId) ? occurrenceId : id,
    subjectId: null,
    verbatimName: take('scientificName') ?? take('verbatimIdentification') ?? take('vernacularName'),
    outingId: null,
    siteId: null,
    position: positionOf(row, number) ?? positionOfReference(row, take),
    eventDate: take('eventDate') ?? '',
    individualCount: countOf(row, number),
    lifeStage: take('lifeStage'),
    certainty: certaintyOf(row, used),
    determiner: take('identifiedBy'),
    recordedBy: take('recordedBy'),
    evidence: mediaOf(row, used),
    associatedSpecies: (take('associatedTaxa') ?? '')
      .split('|')
      .map((name) => name.trim())
      .filter((name) => name !== ''),
    remarks: take('occurrenceRemarks') ?? '',
  };
  const rest = Object.entries(row).filter(([term, text]) => text !== '' && !used.has(term));
  const read = readKept('record', {
    ...base,
    extraTerms: Object.fromEntries(rest.filter(([term, text]) => !implied(term, text, base))),
  });
  if (!read.ok) return { ok: false, why: `${read.field}: expected ${read.expected}.` };
  return {
    ok: true,
    record: read.value,
    notUnderstood: Object.keys(read.value.extraTerms),
  };
}

function positionOf(row: OccurrenceRow, number: (term: string) => number | null): Position | null {
  const datum = (row['geodeticDatum'] ?? '').replace(/\s/g, '').toUpperCase();
  // A position on another datum is up to some 200 m elsewhere: it stays a text until somebody converts it.
  if (!['', 'EPSG:4326', 'WGS84', 'WGS1984'].includes(datum)) return null;
  const [latitude, longitude] = [Number(row['decimalLatitude']), Number(row['decimalLongitude'])];
  if (!row['decimalLatitude'] || !row['decimalLongitude']) return null;
  if (!(Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180)) return null;
  number('decimalLatitude');
  number('decimalLongitude');
  const uncertainty = Number(row['coordinateUncertaintyInMeters'] ?? 0);
  const known = uncertainty > 0 && uncertainty <= 10_000_000;
  return {
    latitudeDeg: latitude,
    longitudeDeg: longitude,
    altitudeM: null,
    coordinateUncertaintyM: known ? number('coordinateUncertaintyInMeters') : null,
  };
}

/** A British grid reference that is all there is of a place: the middle of its square. Anything else stays a text. */
function positionOfReference(row: OccurrenceRow, take: (term: string) => string | null): Position | null {
  if (row['decimalLatitude'] !== undefined || row['decimalLongitude'] !== undefined) return null;
  const square = squareOfGridReference(row['verbatimCoordinates'] ?? '');
  if (square === null) return null;
  // The reference itself stays with the record as it came; so does an uncertainty that is less than its square.
  const stated = Number(row['coordinateUncertaintyInMeters'] ?? 0);
  const wider = stated > square.uncertaintyM && stated <= 10_000_000;
  if (wider) take('coordinateUncertaintyInMeters');
  return {
    ...square.centre,
    altitudeM: null,
    coordinateUncertaintyM: wider ? stated : square.uncertaintyM,
  };
}

function countOf(row: OccurrenceRow, number: (term: string) => number | null): number | null {
  if (/^\d{1,9}$/.test(row['individualCount']?.trim() ?? '')) return number('individualCount');
  return ['absent', 'notdetected'].includes((row['occurrenceStatus'] ?? '').toLowerCase()) ? 0 : null;
}

function certaintyOf(row: OccurrenceRow, used: Set<string>): KeptRecord['certainty'] {
  const found = CERTAINTY[row['identificationQualifier']?.trim() ?? ''];
  if (found === undefined) return null;
  used.add('identificationQualifier');
  return found;
}

function mediaOf(row: OccurrenceRow, used: Set<string>): readonly string[] {
  const parts = (row['associatedMedia'] ?? '').split('|').map((part) => part.trim());
  const hashes = parts.map((part) => /^urn:sha256:([0-9a-f]{64})$/.exec(part)?.[1]);
  const all = hashes.filter((hash): hash is string => hash !== undefined);
  // Where some are not ours the whole text is kept as it came.
  if (all.length !== parts.length) return [];
  used.add('associatedMedia');
  return all;
}
