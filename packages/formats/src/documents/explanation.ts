/** What stands behind a number: the equation by its name, its source, the numbers that went in, and what came out. */
import * as v from 'valibot';
import { number, type Known } from './fields.ts';

/** The numbers that can be opened. */
export const EXPLAINED = [
  'aperture',
  'shutter',
  'iso',
  'frames',
  'blur',
  'depth',
  'background',
  'wind',
  'light',
] as const;
export type Explained = (typeof EXPLAINED)[number];

/** A value with its name and its unit; the unit is empty for pure numbers and words. */
export const quantitySchema = v.looseObject({
  name: v.string(),
  value: v.union([number, v.string()]),
  unit: v.string(),
});

/** One step of the way to a number; those of one number stand in the order in which they are worked out. */
export const explanationSchema = v.looseObject({
  of: v.picklist(EXPLAINED),
  name: v.string(),
  equation: v.string(),
  source: v.string(),
  inputs: v.array(quantitySchema),
  result: quantitySchema,
});

export type Quantity = Known<v.InferOutput<typeof quantitySchema>>;
export type Explanation = Known<v.InferOutput<typeof explanationSchema>>;
