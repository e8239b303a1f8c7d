/** A record as a Darwin Core occurrence. */
import { DomainError } from '@tepal/science';
import type { KeptRecord } from '../kept/record.ts';
import type { Subject } from '../kept/subject.ts';
import { coordinateWords, foldedText } from '../place/private-words.ts';
import { isReleasedPlace, type ReleasedPlace } from '../place/release.ts';
import { PLACE_TERMS } from './place-terms.ts';

/** A row by the standard's term names. A term without a value is not in it. */
export type OccurrenceRow = Readonly<Record<string, string>>;

/** What a row needs beside the record. */
export interface OccurrenceOptions {
  /** Texts that must not go out: `privateWords` of the notebook. A field that holds one is left out and told. */
  readonly secrets: readonly string[];
  /** The words for seen and not seen: the current vocabulary's by default, `present`/`absent` for older portals. */
  readonly statusWords?: { readonly seen: string; readonly notSeen: string };
  /** Licence of the record, an address. */
  readonly license?: string;
}

const CURRENT_STATUS = { seen: 'detected', notSeen: 'notDetected' };

/** Darwin Core's own words for a name that is not certain. */
const QUALIFIER = { certain: '', likely: 'cf.', unsure: '?' } as const;

/**
 * The row of a record. Its place is the released one; whatever else the record holds of a place stays out unless the
 * exact place was released.
 *
 * @param subject the record's; null where its name was not matched
 * @param place from `release`
 * @throws DomainError if the place did not come out of `release`
 */
export function toOccurrence(
  record: KeptRecord,
  subject: Subject | null,
  place: ReleasedPlace,
  options: OccurrenceOptions,
): OccurrenceRow {
  if (!isReleasedPlace(place)) {
    throw new DomainError('notOneOf', 'a place that came out of release', 'place', 'another');
  }
  const { seen, notSeen } = options.statusWords ?? CURRENT_STATUS;
  const extra = Object.entries(record.extraTerms).filter(([term]) => place.trusted || !PLACE_TERMS.has(term));
  const terms: Record<string, string> = {
    ...Object.fromEntries(extra),
    occurrenceID: record.id,
    basisOfRecord: 'HumanObservation',
    eventDate: record.eventDate,
    recordedBy: record.recordedBy ?? '',
    identifiedBy: record.determiner ?? '',
    scientificName: subject?.scientificName ?? record.verbatimName ?? '',
    identificationQualifier: record.certainty === null ? '' : QUALIFIER[record.certainty],
    individualCount: record.individualCount === null ? '' : String(record.individualCount),
    occurrenceStatus: record.individualCount === 0 ? notSeen : seen,
    lifeStage: record.lifeStage ?? '',
    associatedTaxa: record.associatedSpecies.join(' | '),
    associatedMedia: record.evidence.map((hash) => `urn:sha256:${hash}`).join(' | '),
    occurrenceRemarks: record.remarks,
    license: options.license ?? '',
  };
  const told = place.trusted
    ? { kept: terms, left: [] }
    : withoutSecrets(terms, secretsBeside(place, options.secrets));
  return filled({ ...told.kept, ...placeTerms(place, told.left) });
}

function placeTerms(place: ReleasedPlace, left: readonly string[]): Record<string, string> {
  const text = (value: number | string | undefined) => (value === undefined ? '' : String(value));
  const more = left.length === 0 ? '' : `Left out, since they name the place: ${left.join(', ')}.`;
  return {
    decimalLatitude: text(place.latitudeDeg),
    decimalLongitude: text(place.longitudeDeg),
    geodeticDatum: place.latitudeDeg === undefined ? '' : 'EPSG:4326',
    coordinateUncertaintyInMeters: text(place.coordinateUncertaintyInMeters),
    coordinatePrecision: text(place.coordinatePrecision),
    minimumElevationInMeters: text(place.altitudeM),
    maximumElevationInMeters: text(place.altitudeM),
    higherGeography: text(place.regionName),
    dataGeneralizations: text(place.dataGeneralizations),
    informationWithheld: [place.informationWithheld ?? '', more].filter((part) => part !== '').join(' '),
  };
}

/** Where the exact place goes out its coordinates are no secret any more; every other place still is. */
function secretsBeside(place: ReleasedPlace, secrets: readonly string[]): readonly string[] {
  const { latitudeDeg, longitudeDeg } = place;
  if (place.kind !== 'exact' || latitudeDeg === undefined || longitudeDeg === undefined) return secrets;
  const own = new Set(
    coordinateWords({ latitudeDeg, longitudeDeg, altitudeM: null, coordinateUncertaintyM: null }),
  );
  return secrets.filter((secret) => !own.has(secret));
}

/** The terms that hold no secret, and the names of those that did. */
function withoutSecrets(terms: Record<string, string>, secrets: readonly string[]) {
  const needles = secrets.map(foldedText);
  const holds = (text: string): boolean => {
    const folded = foldedText(text);
    return needles.some((needle) => folded.includes(needle));
  };
  const left = Object.keys(terms).filter((term) => holds(terms[term]!));
  const kept = Object.fromEntries(Object.entries(terms).filter(([term]) => !left.includes(term)));
  return { kept, left };
}

function filled(terms: Record<string, string>): OccurrenceRow {
  return Object.fromEntries(Object.entries(terms).filter(([, value]) => value !== ''));
}
