/** `tepal/entry/1`: pictures entered somewhere: its rules, its deadline, and the pictures in their order. */
import * as v from 'valibot';
import { instant, type Known } from '../fields.ts';
import { deedSchema } from './done.ts';
import { ruleSetSchema } from './rule-set.ts';
import type { Versions } from './versioned.ts';

/**
 * - `picture`: a file, relative to the entry's own; `original`: the raw or untouched JPEG, found beside it unless given
 * - `steps`: a file of steps to make it by; `deeds`: what was done elsewhere, as the photographer answers
 */
export const enteredPictureSchema = v.strictObject({
  picture: v.string(),
  title: v.string(),
  scientificName: v.exactOptional(v.string()),
  original: v.exactOptional(v.string()),
  steps: v.exactOptional(v.string()),
  deeds: v.exactOptional(v.array(deedSchema)),
});

export const entrySchema = v.strictObject({
  schema: v.literal('tepal/entry/1'),
  name: v.string(),
  creator: v.exactOptional(v.string()),
  rights: v.exactOptional(v.string()),
  deadline: v.exactOptional(instant),
  rules: ruleSetSchema,
  pictures: v.pipe(v.array(enteredPictureSchema), v.minLength(1)),
});

export type EnteredPicture = Known<v.InferOutput<typeof enteredPictureSchema>>;
export type EntryDocument = Known<v.InferOutput<typeof entrySchema>>;

export const entryVersions: Versions = { name: 'tepal/entry', current: 1, migrations: {} };
