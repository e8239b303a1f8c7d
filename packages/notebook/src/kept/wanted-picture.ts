/** A wanted picture: one to come back for. */
import * as v from 'valibot';
import { above0, id, name, oneOf, prose, type Kept } from './fields.ts';

export const LIGHTS = ['soft', 'any', 'sun'] as const;
export const STILLNESSES = ['still', 'stirring', 'nodding'] as const;
export const DROPS = ['wanted', 'none', 'any'] as const;
export const INSECTS = ['torpid', 'basking', 'any'] as const;

/**
 * A picture to come back for.
 *
 * - siteId: null where any site of the subject will do
 * - framing: what is to be in the frame, in words; magnification: image size over subject size [1], null where open
 * - light, stillness, drops: what it needs; insects: null where none are in it
 * - closedBy: what settled it, a file's hash or a few words; null while it is still wanted
 */
export const wantedPictureSchema = v.looseObject({
  id,
  subjectId: id,
  siteId: v.nullable(id),
  title: name,
  framing: prose,
  magnification: v.nullable(above0(10, 'times life size')),
  light: oneOf(LIGHTS),
  stillness: oneOf(STILLNESSES),
  drops: oneOf(DROPS),
  insects: v.nullable(oneOf(INSECTS)),
  notes: prose,
  closedBy: v.nullable(name),
});

export type WantedPicture = Kept<v.InferOutput<typeof wantedPictureSchema>>;
