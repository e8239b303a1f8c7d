/** Hours in which the photographer can go. */
import * as v from 'valibot';
import { id, instant, name, oneOf, type Kept } from './fields.ts';

/** How an entry repeats. */
export const REPEATS = ['once', 'weekly'] as const;

/** A stretch of free time; `weekly` repeats every seven days by the clock of its offset. */
export const freeHoursSchema = v.looseObject({
  id,
  from: instant,
  to: instant,
  repeats: oneOf(REPEATS),
  label: v.nullable(name),
});

export type FreeHours = Kept<v.InferOutput<typeof freeHoursSchema>>;
