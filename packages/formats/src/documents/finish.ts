/** `tepal/finish/1`: one picture finished by its steps. */
import * as v from 'valibot';
import { count, number, share, type Known } from './fields.ts';

/**
 * - `profile`: name of the colour profile in the output
 * - `whiteBalance`: what was taken for white [K], null where it is no daylight; `guessed` where the file did not say
 * - `highlights`: share of the picture with a clipped channel rebuilt, and with nothing left to rebuild from; null for
 *   a picture that was rendered before
 * - `done`: what was done, in words, the same as in the list beside the output
 */
export const finishSchema = v.looseObject({
  schema: v.literal('tepal/finish/1'),
  output: v.string(),
  doneList: v.string(),
  widthPx: count,
  heightPx: count,
  profile: v.string(),
  whiteBalance: v.nullable(v.looseObject({ temperatureK: v.nullable(number), guessed: v.boolean() })),
  highlights: v.nullable(v.looseObject({ rebuilt: share, lost: share })),
  outsideGamut: share,
  done: v.array(v.string()),
  notes: v.array(v.string()),
});

export type FinishDocument = Known<v.InferOutput<typeof finishSchema>>;
