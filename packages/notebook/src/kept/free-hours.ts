/** Hours in which the photographer can go. */
import * as v from 'valibot';
import { id, instant, name, oneOf, type Kept } from './fields.ts';

/** How an entry repeats. */
export const REPEATS = ['once', 'weekly'] as const;

/**
 * A stretch of free time; `weekly` repeats every seven days: by the clocks of its time zone where that is given, else
 * by the clock of its offset, which a change of clocks shifts against the wall's.
 *
 * - timeZone: name of the IANA time zone, as "Europe/London"; left out or null where not known
 */
export const freeHoursSchema = v.looseObject({
  id,
  from: instant,
  to: instant,
  repeats: oneOf(REPEATS),
  label: v.nullable(name),
  timeZone: v.optional(v.nullable(name)),
});

export type FreeHours = Kept<v.InferOutput<typeof freeHoursSchema>>;
