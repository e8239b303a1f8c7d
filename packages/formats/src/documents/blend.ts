/** `tepal/blend/1`: one picture merged from a focus series, and how each frame took part. */
import * as v from 'valibot';
import { number, type Known } from './fields.ts';

/**
 * How a frame was brought onto the reference: shift about the frame's centre [px], rotation [°], scale [1], and the
 * root mean square of what is left [px]; null each where the frame could not be registered.
 */
export const blendFrameSchema = v.looseObject({
  file: v.string(),
  used: v.boolean(),
  why: v.nullable(v.string()),
  shiftPx: v.nullable(v.looseObject({ x: number, y: number })),
  rotationDeg: v.nullable(number),
  scale: v.nullable(number),
  rmsPx: v.nullable(number),
});

/** A place where no frame is sharp, px of the reference frame from its top left. */
export const blendGapSchema = v.looseObject({ x: number, y: number, widthPx: number, heightPx: number });

export const blendSchema = v.looseObject({
  schema: v.literal('tepal/blend/1'),
  output: v.string(),
  reference: v.string(),
  frames: v.array(blendFrameSchema),
  gaps: v.array(blendGapSchema),
  /** What would make the better picture, where the series did not become one; null where it did. */
  fallback: v.optional(
    v.nullable(
      v.looseObject({
        use: v.picklist(['theseFrames', 'bestSingleFrame']),
        files: v.array(v.string()),
        why: v.string(),
      }),
    ),
  ),
});

export type BlendFrame = Known<v.InferOutput<typeof blendFrameSchema>>;
export type BlendGap = Known<v.InferOutput<typeof blendGapSchema>>;
export type BlendDocument = Known<v.InferOutput<typeof blendSchema>>;
