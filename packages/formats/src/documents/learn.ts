/** `tepal/learn/1`: what the measured frames say about hands, site and plant. */
import * as v from 'valibot';
import { count, number, type Known } from './fields.ts';

/** One parameter in its `unit`: prior and posterior median, each with its 90 % interval, and the frames behind it. */
export const learnedParameterSchema = v.looseObject({
  name: v.string(),
  unit: v.string(),
  prior: v.looseObject({ median: number, interval90: v.tuple([number, number]) }),
  posterior: v.looseObject({ median: number, interval90: v.tuple([number, number]) }),
  frames: count,
});

export const learnSchema = v.looseObject({
  schema: v.literal('tepal/learn/1'),
  parameters: v.array(learnedParameterSchema),
});

export type LearnedParameter = Known<v.InferOutput<typeof learnedParameterSchema>>;
export type LearnDocument = Known<v.InferOutput<typeof learnSchema>>;
