/** `tepal/deliver/1`: a print, screen or archive file, and what was left out of it. */
import * as v from 'valibot';
import { count, type Known } from './fields.ts';

/** `profile`: name of the colour profile in the file; `bytes`: its size; `withheld`: what was left out, by which rule. */
export const deliverSchema = v.looseObject({
  schema: v.literal('tepal/deliver/1'),
  output: v.string(),
  widthPx: count,
  heightPx: count,
  profile: v.string(),
  bytes: count,
  withheld: v.array(v.string()),
});

export type DeliverDocument = Known<v.InferOutput<typeof deliverSchema>>;
