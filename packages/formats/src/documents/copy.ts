/** `tepal/copy/1`: what was copied from a card, file by file. */
import * as v from 'valibot';
import { count, type Known } from './fields.ts';

/**
 * One file on its way to one folder. `source` on the card, `target` where it stands or should have stood; `hash` of
 * its content as "algorithm:hex", null where it could not be read or was not; `why` null unless it failed.
 */
export const copiedFileSchema = v.looseObject({
  source: v.string(),
  target: v.string(),
  hash: v.nullable(v.string()),
  result: v.picklist(['copied', 'alreadyThere', 'failed']),
  why: v.nullable(v.string()),
});

/** `allSafe`: every file of the card stands, read back, in every folder asked for; `saying` the same in words. */
export const copySchema = v.looseObject({
  schema: v.literal('tepal/copy/1'),
  files: v.array(copiedFileSchema),
  allSafe: v.optional(v.boolean()),
  saying: v.optional(v.string()),
  copied: v.optional(count),
  alreadyThere: v.optional(count),
  failed: v.optional(count),
});

export type CopiedFile = Known<v.InferOutput<typeof copiedFileSchema>>;
export type CopyDocument = Known<v.InferOutput<typeof copySchema>>;
