/** `tepal/sway/1`: how a flower swayed over the frames of a burst, and what is behind it. */
import * as v from 'valibot';
import { failedFile, number, share, type Known } from './fields.ts';

const interval = v.tuple([number, number]);

/** A number over these frames, and the 90 % interval of the process behind it; mm null without a magnification. */
const inLengths = v.looseObject({
  px: number,
  mm: v.nullable(number),
  processPx: interval,
  processMm: v.nullable(interval),
});

/**
 * Lengths in px of the frames as they are, and in mm at the subject. `against` is what the camera's motion was taken
 * from. Direction from the x axis, counter-clockwise as seen.
 */
export const swaySchema = v.looseObject({
  schema: v.literal('tepal/sway/1'),
  folder: v.string(),
  point: v.looseObject({ x: share, y: share, origin: v.picklist(['marked', 'guessed']) }),
  frames: v.array(
    v.looseObject({ file: v.string(), atS: number, xPx: v.nullable(number), yPx: v.nullable(number) }),
  ),
  times: v.picklist(['camera', 'interval']),
  against: v.picklist(['surroundings', 'frame', 'both']),
  kind: v.picklist(['swing', 'ambiguous', 'none']),
  directionDeg: number,
  shareAlong: share,
  displacement: v.nullable(inLengths),
  amplitude: v.nullable(v.looseObject({ px: number, mm: v.nullable(number) })),
  speedPerS: v.nullable(inLengths),
  frequencyHz: v.nullable(v.looseObject({ observed: number, process: interval })),
  candidatesHz: v.array(number),
  freezingTimeS: v.nullable(number),
  limitUm: v.nullable(number),
  savedTo: v.nullable(v.string()),
  reasons: v.array(v.string()),
  cautions: v.array(v.string()),
  failed: v.array(failedFile),
});

export type SwayDocument = Known<v.InferOutput<typeof swaySchema>>;
