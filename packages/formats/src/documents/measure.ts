/** `tepal/measure/1`: the frames of a folder, their blur and its cause, their series and rank. */
import * as v from 'valibot';
import { cameraTime, count, failedFile, number, share, type Known } from './fields.ts';

/**
 * One frame. Coordinates and directions are after EXIF orientation.
 *
 * - `point`: fractions of width and height from the top left
 * - `blur.sigmaPx` of the worst axis [px], null where nothing could be measured; `confidence` the chance that the
 *   cause is right [0..1]; `motion.directionDeg` from the x axis, counter-clockwise as seen [0..180)
 * - `blur.focusSide`: of a frame out of focus, where the plane of focus lies seen from the camera, if the map shows it
 * - `framing`: the subject as the sharp region round the point: its box, the sides it touches, the room left [0..1]
 * - `clipped`: share at the top code within 5 % of the frame's width of the point [0..1]; `estimated` where it was told
 *   from luma by the colours of a frame of the series exposed alike
 * - `clippedInRaw`: the same of the sensor's samples where the picture is burnt and there is a raw; `headroomStops` from
 *   its brightest samples there to full, 0 where it is burnt as well
 * - `evennessStops`: 10th to 90th percentile of the subject's luminance; `clutter`: share of the background's
 *   gradient energy in its brightest tenth [0..1]
 * - `rank`: 1 is the best of its series
 */
export const measuredFrameSchema = v.looseObject({
  file: v.string(),
  takenAt: v.nullable(cameraTime),
  series: v.string(),
  widthPx: count,
  heightPx: count,
  exposure: v.looseObject({
    fNumber: v.nullable(number),
    exposureTimeS: v.nullable(number),
    iso: v.nullable(number),
    focalLengthMm: v.nullable(number),
  }),
  point: v.looseObject({ x: share, y: share, origin: v.picklist(['marked', 'carried', 'guessed']) }),
  blur: v.looseObject({
    sigmaPx: v.nullable(number),
    sigmaLowPx: v.nullable(number),
    sigmaHighPx: v.nullable(number),
    cause: v.picklist(['sharp', 'defocus', 'motion', 'both', 'unclear']),
    confidence: share,
    motion: v.nullable(v.looseObject({ lengthPx: number, directionDeg: number })),
    moved: v.nullable(v.picklist(['camera', 'subject'])),
    focusSide: v.optional(v.nullable(v.picklist(['inFront', 'behind']))),
  }),
  framing: v.optional(
    v.nullable(
      v.looseObject({
        box: v.looseObject({ x: share, y: share, width: share, height: share }),
        touches: v.array(v.picklist(['left', 'right', 'top', 'bottom'])),
        room: v.looseObject({ left: share, right: share, top: share, bottom: share }),
        share,
      }),
    ),
  ),
  clipped: v.looseObject({ red: share, green: share, blue: share }),
  clippedInRaw: v.optional(v.looseObject({ red: share, green: share, blue: share, headroomStops: number })),
  evennessStops: v.nullable(number),
  clutter: v.nullable(share),
  rank: v.nullable(count),
  companions: v.array(v.string()),
  reasons: v.array(v.string()),
});

/** Frames of the same subject and framing; `kind` focus when the focus moves through it. Times of first and last. */
export const measuredSeriesSchema = v.looseObject({
  id: v.string(),
  kind: v.picklist(['single', 'repeat', 'focus']),
  files: v.array(v.string()),
  best: v.string(),
  blendSuggested: v.boolean(),
  startedAt: v.nullable(cameraTime),
  endedAt: v.nullable(cameraTime),
});

/** `limitPx`: the largest sigma that counts as sharp at the delivery asked for [px]. */
export const measureSchema = v.looseObject({
  schema: v.literal('tepal/measure/1'),
  limitPx: v.optional(v.nullable(number)),
  frames: v.array(measuredFrameSchema),
  series: v.array(measuredSeriesSchema),
  failed: v.array(failedFile),
});

export type MeasuredFrame = Known<v.InferOutput<typeof measuredFrameSchema>>;
export type MeasuredSeries = Known<v.InferOutput<typeof measuredSeriesSchema>>;
export type MeasureDocument = Known<v.InferOutput<typeof measureSchema>>;
