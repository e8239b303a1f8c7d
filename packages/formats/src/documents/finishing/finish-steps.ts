/** `tepal/finish-steps/1`: what is done to a picture, as a file beside it. The picture itself is never changed. */
import * as v from 'valibot';
import { number, share, type Known } from '../fields.ts';
import type { Versions } from './versioned.ts';

const round = { x: share, y: share, radius: number };
const ranged = (least: number, most: number) => v.pipe(number, v.minValue(least), v.maxValue(most));

/**
 * Every step may be left out; then it is not done. The order is fixed: noise, spots, white and exposure, framing,
 * shade, background, tone; petals and sharpening when a space and a size are chosen.
 *
 * - places are fractions of width and height from the top left, radii fractions of the width; those of spots and of
 *   the grey patch are of the picture before framing, those of the background after it
 * - `whiteBalance`: daylight in K; a grey patch is made grey
 * - `noise`: shares of grain and of specks of colour that are taken away
 * - `framing.levelDeg`: counter-clockwise; `crop`: of the levelled picture
 * - `tone.contrast` 1 leaves it; `shoulderFrom` share of white, `headroomStops` what becomes white
 */
export const finishStepsSchema = v.strictObject({
  schema: v.literal('tepal/finish-steps/1'),
  whiteBalance: v.exactOptional(
    v.variant('kind', [
      v.strictObject({ kind: v.literal('asShot') }),
      v.strictObject({ kind: v.literal('daylight'), temperatureK: ranged(4000, 25_000) }),
      v.strictObject({ kind: v.literal('greyPatch'), ...round, radius: ranged(0.001, 0.5) }),
    ]),
  ),
  exposureStops: v.exactOptional(ranged(-10, 10)),
  noise: v.exactOptional(v.strictObject({ grain: share, colour: share })),
  spots: v.exactOptional(
    v.array(
      v.strictObject({
        ...round,
        radius: ranged(0.0001, 0.1),
        from: v.exactOptional(v.strictObject({ x: share, y: share })),
      }),
    ),
  ),
  framing: v.exactOptional(
    v.strictObject({
      levelDeg: v.exactOptional(ranged(-45, 45)),
      crop: v.exactOptional(v.strictObject({ left: share, top: share, width: share, height: share })),
    }),
  ),
  fillShade: v.exactOptional(v.strictObject({ stops: ranged(0, 3) })),
  background: v.exactOptional(
    v.strictObject({
      calm: share,
      darkerStops: v.exactOptional(ranged(0, 2)),
      paler: v.exactOptional(share),
      subject: v.exactOptional(v.array(v.strictObject(round))),
      notSubject: v.exactOptional(v.array(v.strictObject(round))),
    }),
  ),
  tone: v.exactOptional(
    v.strictObject({
      contrast: v.exactOptional(ranged(0.5, 2)),
      shoulderFrom: v.exactOptional(ranged(0.1, 1)),
      headroomStops: v.exactOptional(ranged(0, 4)),
    }),
  ),
  petals: v.exactOptional(v.strictObject({ ease: share })),
  sharpening: v.exactOptional(v.strictObject({ strength: ranged(0, 2) })),
});

export type FinishStepsDocument = Known<v.InferOutput<typeof finishStepsSchema>>;

/** There is no older form than the first. */
export const finishStepsVersions: Versions = { name: 'tepal/finish-steps', current: 1, migrations: {} };
