/** `tepal/expose/1`: what to set, what it rests on, and the odds. */
import * as v from 'valibot';
import { explanationSchema } from './explanation.ts';
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

/** What a reflector or diffuser does under one sky; ratios of lit over shaded side. */
const fillUnderSky = {
  fillStops: number,
  ratioBeforeStops: number,
  ratioAfterStops: number,
  configurationFactor: share,
};

const reflectorSchema = v.looseObject(fillUnderSky);
const diffuserSchema = v.looseObject({ ...fillUnderSky, lostStops: number, covers: v.boolean() });

/**
 * - `optics.depthOfFieldMm` null where it reaches infinity; `workingDistanceMm` null where the lens does not say
 * - `budget`: blur sigmas at the worst edge of the subject, focus at mid-depth [µm on the sensor, px of the full
 *   frame]; `totalAtPointUm` at the point of focus, focus placement included
 * - `background.discMm` on the sensor; `shareOfFrameWidth` of it
 * - `noise`: signal to noise of the midtone and the shadow [1]
 * - `odds`: of one frame, at the point of focus; ranges span hands, plant and wind; `framesFor95` null below 0.003;
 *   `framesFor95Correlated` for frames taken at the stated interval; `within` the chance of one within the frames that
 *   one is willing to take; `burst` the frames of a burst, whose neighbours are alike
 * - `camera`: what to set it to as it is used
 * - `lull`, `timing`: null where they do not help; times in s, speeds at the plant [m/s]
 * - `fill`: what reflector and diffuser do, null where none was given
 * - `changes`: what would help, the greatest gain first; empty where a frame is good enough
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
  noise: v.looseObject({
    midtoneSnr: number,
    shadowSnr: number,
    cleanIso: v.optional(number),
    ceilingIso: v.optional(number),
    borneShare: v.optional(share),
  }),
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
    within: v.optional(v.looseObject({ frames: count, chance: share })),
    burst: v.optional(v.looseObject({ intervalS: number, correlation: share, frames: v.nullable(count) })),
  }),
  focusSeries: v.nullable(
    v.looseObject({
      frames: count,
      stepMm: number,
      durationS: number,
      meanLullS: v.optional(v.nullable(number)),
      chanceWhole: v.optional(share),
      worthIt: v.optional(v.boolean()),
    }),
  ),
  camera: v.optional(
    v.looseObject({
      use: v.picklist(['aperturePreferred', 'manual']),
      fNumber: number,
      slowestShutterS: number,
      isoCeiling: number,
      words: v.string(),
    }),
  ),
  lull: v.optional(
    v.nullable(v.looseObject({ belowMs: number, sharp: share, expectedWaitS: number, meanLengthS: number })),
  ),
  timing: v.optional(
    v.nullable(
      v.looseObject({
        sharp: share,
        quietMomentS: number,
        longerStops: number,
        secondsTimed: number,
        secondsWaiting: v.nullable(number),
        better: v.picklist(['timing', 'waiting']),
      }),
    ),
  ),
  fill: v.optional(
    v.nullable(
      v.looseObject({
        sunAltitudeDeg: number,
        reflector: v.nullable(v.looseObject({ overcast: reflectorSchema, clear: reflectorSchema })),
        diffuser: v.nullable(v.looseObject({ overcast: diffuserSchema, clear: diffuserSchema })),
      }),
    ),
  ),
  changes: v.optional(
    v.array(v.looseObject({ change: v.string(), sharp: share, framesFor95: v.nullable(count) })),
  ),
  reasons: v.array(v.string()),
  cautions: v.array(v.string()),
  explanations: v.optional(v.array(explanationSchema)),
});

export type ExposeSetting = Known<v.InferOutput<typeof exposeSettingSchema>>;
export type ExposeAlternative = Known<v.InferOutput<typeof exposeAlternativeSchema>>;
export type ExposeDocument = Known<v.InferOutput<typeof exposeSchema>>;
