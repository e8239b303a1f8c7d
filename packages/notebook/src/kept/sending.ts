/** A sending: something with exact places that left the house on the photographer's word. The log of them. */
import * as v from 'valibot';
import { fileHash, id, instant, name, prose, whole, type Kept } from './fields.ts';

/**
 * What left, when, and to whom.
 *
 * - to: the recipient, as typed for the confirmation
 * - what: in words, as "Darwin Core archive"; file: its name, without folders
 * - recordIds: the records in it; places: how many exact places
 * - hash: of the file as it left, so that a copy found later can be told
 */
export const sendingSchema = v.looseObject({
  id,
  at: instant,
  to: name,
  what: name,
  file: name,
  hash: fileHash,
  recordIds: v.array(id, 'a list of identifiers'),
  places: whole(0, 1e9),
  notes: prose,
});

export type Sending = Kept<v.InferOutput<typeof sendingSchema>>;
