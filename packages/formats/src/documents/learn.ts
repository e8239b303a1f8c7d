/** `tepal/learn/1`: what the measured frames say about hands, site and plant. */
import * as v from 'valibot';
import { count, number, type Known } from './fields.ts';

/**
 * One parameter in its `unit`: prior and posterior median, each with its 90 % interval, and the frames behind it.
 *
 * - `logSpread`: standard deviation of its natural log [1]
 * - `saying`: the same as a sentence for the photographer
 */
export const learnedParameterSchema = v.looseObject({
  name: v.string(),
  unit: v.string(),
  prior: v.looseObject({ median: number, interval90: v.tuple([number, number]) }),
  posterior: v.looseObject({ median: number, interval90: v.tuple([number, number]) }),
  frames: count,
  logSpread: v.optional(number),
  saying: v.optional(v.string()),
});

/** `frames`: how many were learned from; `unused`: how many were not, by reason. */
export const learnSchema = v.looseObject({
  schema: v.literal('tepal/learn/1'),
  frames: v.optional(count),
  unused: v.optional(v.array(v.looseObject({ why: v.string(), frames: count }))),
  parameters: v.array(learnedParameterSchema),
});

export type LearnedParameter = Known<v.InferOutput<typeof learnedParameterSchema>>;
export type LearnDocument = Known<v.InferOutput<typeof learnSchema>>;
