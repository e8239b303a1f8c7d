/** A record as a row of the recorders' table. */
import type { RecorderRow } from '@tepal/formats';
import type { KeptRecord } from '../kept/record.ts';
import type { Subject } from '../kept/subject.ts';
import { gridReferenceOfReleased } from '../place/grid-reference.ts';
import type { ReleasedPlace } from '../place/release.ts';
import { toOccurrence, type OccurrenceOptions } from './to-occurrence.ts';

/**
 * The row of a record. It says what the occurrence says, and the released place as a grid reference beside.
 *
 * @param place from `release`
 * @param language whose common names stand in it; null for none
 * @throws DomainError if the place did not come out of `release`
 */
export function toRecorderRow(
  record: KeptRecord,
  subject: Subject | null,
  place: ReleasedPlace,
  options: OccurrenceOptions & { readonly language: string | null },
): RecorderRow {
  const terms = toOccurrence(record, subject, place, options);
  const told = (term: string): string => terms[term] ?? '';
  const common = options.language === null ? undefined : subject?.commonNames[options.language];
  const secret = options.secrets.some((word) => common?.toLowerCase().includes(word.toLowerCase()) ?? false);
  return {
    Species: told('scientificName'),
    'Common name': common === undefined || (secret && place.kind !== 'exact') ? '' : common,
    'Grid reference': gridReferenceOfReleased(place) ?? '',
    Latitude: told('decimalLatitude'),
    Longitude: told('decimalLongitude'),
    'Uncertainty (m)': told('coordinateUncertaintyInMeters'),
    Region: told('higherGeography'),
    Date: told('eventDate'),
    Recorder: told('recordedBy'),
    Determiner: told('identifiedBy'),
    Quantity: told('individualCount'),
    'Life stage': told('lifeStage'),
    Certainty: told('identificationQualifier'),
    'Associated species': told('associatedTaxa'),
    Comment: told('occurrenceRemarks'),
    'Place generalised': told('dataGeneralizations'),
    Withheld: told('informationWithheld'),
    'Record ID': told('occurrenceID'),
  };
}
