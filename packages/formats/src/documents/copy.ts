/** `tepal/copy/1`: what was copied from a card, file by file. */
import * as v from 'valibot';
import { type Known } from './fields.ts';

/** One file: `hash` of its content as "algorithm:hex", null where it could not be read; `why` null when copied. */
export const copiedFileSchema = v.looseObject({
  source: v.string(),
  target: v.string(),
  hash: v.nullable(v.string()),
  result: v.picklist(['copied', 'alreadyThere', 'failed']),
  why: v.nullable(v.string()),
});

export const copySchema = v.looseObject({
  schema: v.literal('tepal/copy/1'),
  files: v.array(copiedFileSchema),
});

export type CopiedFile = Known<v.InferOutput<typeof copiedFileSchema>>;
export type CopyDocument = Known<v.InferOutput<typeof copySchema>>;
