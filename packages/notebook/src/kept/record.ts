/** A record: who saw what, where, when, how many. It becomes a Darwin Core occurrence. */
import * as v from 'valibot';
import { fileHash, id, name, oneOf, prose, whole, type Kept } from './fields.ts';
import { positionSchema } from './position.ts';

/** How sure the name is: certain; likely ("cf."); unsure ("?"). */
export const CERTAINTIES = ['certain', 'likely', 'unsure'] as const;

const EVENT_DATE = 'an ISO 8601 date, time or interval, as 2026-06-14 or 2026-06-14/2026-06-16';

/**
 * A sighting.
 *
 * - subjectId, or verbatimName where the name was not matched to a subject yet; one of the two is given
 * - outingId, siteId, position: where and when it belongs; position is private and goes before the site's
 * - eventDate: ISO 8601, an interval allowed
 * - individualCount: how many; null where not counted
 * - certainty: of the name; determiner: who named it, recordedBy: who saw it
 * - evidence: hashes of the photographs that show it
 * - associatedSpecies: names of what grew or sat with it, one each
 * - extraTerms: terms of an imported Darwin Core row that have no field here, by term name, kept as they came
 */
export const recordSchema = v.pipe(
  v.looseObject({
    id,
    subjectId: v.nullable(id),
    verbatimName: v.nullable(name),
    outingId: v.nullable(id),
    siteId: v.nullable(id),
    position: v.nullable(positionSchema),
    eventDate: v.pipe(
      v.string(EVENT_DATE),
      v.regex(/^\d{4}(-\d{2}(-\d{2}(T[\d:.,]+(Z|[+-]\d{2}(:?\d{2})?)?)?)?)?(\/[\dT:.,Z+-]+)?$/, EVENT_DATE),
    ),
    individualCount: v.nullable(whole(0, 1e9)),
    lifeStage: v.nullable(name),
    certainty: v.nullable(oneOf(CERTAINTIES)),
    determiner: v.nullable(name),
    recordedBy: v.nullable(name),
    evidence: v.array(fileHash, 'a list of SHA-256 hashes'),
    associatedSpecies: v.array(name, 'a list of names'),
    remarks: prose,
    extraTerms: v.record(name, v.string('a text'), 'texts by term name'),
  }),
  v.check(
    (record) => record.subjectId !== null || record.verbatimName !== null,
    'a subject or a name as it was written',
  ),
);

export type KeptRecord = Kept<v.InferOutput<typeof recordSchema>>;
