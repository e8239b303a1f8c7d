/** `tepal/record/1`: records written to a Darwin Core archive, or read from one. */
import * as v from 'valibot';
import { count, type Known } from './fields.ts';

/**
 * What was written: the file, how many occurrences, and what was left out, by which rule.
 *
 * - `toAsk`: species whose sensitivity nobody said yet
 * - `to`: the recipient of a confidential export, which is logged; `exactPlaces` that went with it
 */
export const recordExportSchema = v.looseObject({
  output: v.string(),
  occurrences: count,
  withheld: v.array(v.string()),
  toAsk: v.optional(v.array(v.string())),
  to: v.optional(v.string()),
  exactPlaces: v.optional(count),
});

/** What was read: the file, how many occurrences, and every column or row that was not understood. */
export const recordImportSchema = v.looseObject({
  file: v.string(),
  occurrences: count,
  notUnderstood: v.array(v.string()),
});

/** Free names against a checklist: what each is, the subject its records got, and what a near one may be. */
export const recordNamesSchema = v.looseObject({
  file: v.string(),
  checklistNames: count,
  matched: v.array(
    v.looseObject({
      written: v.string(),
      records: count,
      kind: v.picklist(['accepted', 'synonym', 'common', 'near', 'unknown']),
      subject: v.nullable(v.string()),
      mayBe: v.array(v.string()),
    }),
  ),
  notUnderstood: v.array(v.string()),
});

/** One confidential export of the log. */
export const recordSendingSchema = v.looseObject({
  at: v.string(),
  to: v.string(),
  what: v.string(),
  file: v.string(),
  places: count,
});

export const recordSchema = v.looseObject({
  schema: v.literal('tepal/record/1'),
  exported: v.nullable(recordExportSchema),
  imported: v.nullable(recordImportSchema),
  names: v.optional(recordNamesSchema),
  sensitivity: v.optional(v.array(v.looseObject({ name: v.string(), sensitivity: v.string() }))),
  sendings: v.optional(v.array(recordSendingSchema)),
});

export type RecordExport = Known<v.InferOutput<typeof recordExportSchema>>;
export type RecordImport = Known<v.InferOutput<typeof recordImportSchema>>;
export type RecordDocument = Known<v.InferOutput<typeof recordSchema>>;
