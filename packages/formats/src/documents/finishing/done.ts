/** `tepal/done/1`: what was done to a picture, as a plain list that goes with it. */
import * as v from 'valibot';
import { type Known } from '../fields.ts';
import { finishStepsSchema } from './finish-steps.ts';
import type { Versions } from './versioned.ts';

/** Kinds of what may have been done, in the words that rules of exhibitions use. */
export const DEEDS = [
  ...[
    'crop',
    'level',
    'exposure',
    'whiteBalance',
    'tone',
    'shadeFilled',
    'noise',
    'sharpening',
    'petalColour',
  ],
  ...['spotRemoved', 'backgroundQuietened', 'stacked', 'objectRemoved', 'objectAdded', 'monochrome', 'other'],
] as const satisfies readonly string[];

export type DeedKind = (typeof DEEDS)[number];

export const deedSchema = v.strictObject({ deed: v.picklist(DEEDS), words: v.string() });

/**
 * - `original`: name and content hash ("sha256:…") of the file that it was made from; null where nobody knows
 * - `finishedElsewhere`: made in another program, so that the list is what the photographer answered
 * - `steps`: those that made it; null where there are none
 */
export const doneSchema = v.looseObject({
  schema: v.literal('tepal/done/1'),
  picture: v.string(),
  original: v.nullable(v.strictObject({ file: v.string(), hash: v.string() })),
  finishedElsewhere: v.boolean(),
  deeds: v.array(deedSchema),
  steps: v.nullable(finishStepsSchema),
});

export type Deed = Known<v.InferOutput<typeof deedSchema>>;
export type DoneDocument = Known<v.InferOutput<typeof doneSchema>>;

export const doneVersions: Versions = { name: 'tepal/done', current: 1, migrations: {} };
