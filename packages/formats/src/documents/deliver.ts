/** `tepal/deliver/1`: a print, screen or archive file, and what was left out of it. */
import * as v from 'valibot';
import { count, number, share, type Known } from './fields.ts';

/**
 * `profile`: name of the colour profile in the file; `bytes`: its size; `withheld`: what was left out, by which rule.
 *
 * Further: `ppi` of a print, true and never made up; `quality` of a JPEG; `gamut.outside` share of the picture whose
 * colours the space cannot show; `checks` against a set of rules; `done` what was done, in words; `notes`.
 */
export const deliverSchema = v.looseObject({
  schema: v.literal('tepal/deliver/1'),
  output: v.string(),
  widthPx: count,
  heightPx: count,
  profile: v.string(),
  bytes: count,
  withheld: v.array(v.string()),
  ppi: v.optional(number),
  quality: v.optional(count),
  gamut: v.optional(v.looseObject({ outside: share, brighterThanWhite: share })),
  checks: v.optional(
    v.array(
      v.looseObject({
        what: v.string(),
        verdict: v.picklist(['fits', 'fitted', 'ask', 'refused']),
        why: v.string(),
      }),
    ),
  ),
  done: v.optional(v.array(v.string())),
  notes: v.optional(v.array(v.string())),
});

export type DeliverDocument = Known<v.InferOutput<typeof deliverSchema>>;
