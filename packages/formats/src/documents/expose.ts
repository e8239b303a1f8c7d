/** `tepal/expose/1`: what to set, what it rests on, and the odds. */
import * as v from 'valibot';
import { count, number, share, type Known } from './fields.ts';

/** f-number as marked, time exact and as on the dial [s], ISO as set. */
const setting = {
  fNumber: number,
  exposureTimeS: number,
  exposureTimeNominalS: number,
  iso: number,
};

export const exposeSettingSchema = v.looseObject(setting);

/** Another setting, its odds of a sharp frame [0..1], the frames for 95 % of one, and what is traded for it. */
export const exposeAlternativeSchema = v.looseObject({
  ...setting,
  sharp: share,
  framesFor95: v.nullable(count),
  trade: v.string(),
});

/**
 * - `optics.depthOfFieldMm` null where it reaches infinity; `workingDistanceMm` null where the lens does not say
 * - `budget`: blur sigmas at the worst edge of the subject, focus at mid-depth [µm on the sensor, px of the full
 *   frame]; `totalAtPointUm` at the point of focus, focus placement included
 * - `background.discMm` on the sensor; `shareOfFrameWidth` of it
 * - `noise`: signal to noise of the midtone and the shadow [1]
 * - `odds`: of one frame, at the point of focus; ranges span hands, plant and wind; `framesFor95` null below 0.003;
 *   `framesFor95Correlated` for frames taken at the stated interval
 */
export const exposeSchema = v.looseObject({
  schema: v.literal('tepal/expose/1'),
  recommended: exposeSettingSchema,
  alternatives: v.array(exposeAlternativeSchema),
  optics: v.looseObject({
    effectiveFNumber: number,
    lightLossStops: number,
    depthOfFieldMm: v.nullable(number),
    workingDistanceMm: v.nullable(number),
    airyDiameterUm: number,
  }),
  budget: v.looseObject({
    pixelUm: number,
    diffractionUm: number,
    defocusUm: number,
    subjectMotionUm: number,
    cameraMotionUm: number,
    totalUm: number,
    totalPx: number,
    totalAtPointUm: number,
    limitUm: number,
    limitPx: number,
  }),
  background: v.looseObject({ discMm: number, shareOfFrameWidth: number }),
  noise: v.looseObject({ midtoneSnr: number, shadowSnr: number }),
  odds: v.looseObject({
    inFocus: share,
    still: share,
    sharp: share,
    sharpRange: v.tuple([share, share]),
    framesFor95: v.nullable(count),
    framesFor95Range: v.tuple([v.nullable(count), v.nullable(count)]),
    framesFor95Correlated: v.optional(v.nullable(count)),
    basis: v.picklist(['typical', 'yours']),
    waitForLullS: v.nullable(number),
  }),
  focusSeries: v.nullable(v.looseObject({ frames: count, stepMm: number, durationS: number })),
  reasons: v.array(v.string()),
  cautions: v.array(v.string()),
});

export type ExposeSetting = Known<v.InferOutput<typeof exposeSettingSchema>>;
export type ExposeAlternative = Known<v.InferOutput<typeof exposeAlternativeSchema>>;
export type ExposeDocument = Known<v.InferOutput<typeof exposeSchema>>;
