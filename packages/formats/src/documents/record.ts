/** `tepal/record/1`: records written to a Darwin Core archive, or read from one. */
import * as v from 'valibot';
import { count, type Known } from './fields.ts';

/** What was written: the file, how many occurrences, and what was left out, by which rule. */
export const recordExportSchema = v.looseObject({
  output: v.string(),
  occurrences: count,
  withheld: v.array(v.string()),
});

/** What was read: the file, how many occurrences, and every column or row that was not understood. */
export const recordImportSchema = v.looseObject({
  file: v.string(),
  occurrences: count,
  notUnderstood: v.array(v.string()),
});

export const recordSchema = v.looseObject({
  schema: v.literal('tepal/record/1'),
  exported: v.nullable(recordExportSchema),
  imported: v.nullable(recordImportSchema),
});

export type RecordExport = Known<v.InferOutput<typeof recordExportSchema>>;
export type RecordImport = Known<v.InferOutput<typeof recordImportSchema>>;
export type RecordDocument = Known<v.InferOutput<typeof recordSchema>>;
