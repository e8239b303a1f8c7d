/** `tepal/when/1`: the hours at a site against a forecast, and the windows for wanted pictures. */
import { plantMotionWords } from '@tepal/science';
import * as v from 'valibot';
import { failedFile, instant, judgedFactor, number, share, sourcedFactor, type Known } from './fields.ts';

const maybe = v.optional(v.nullable(number));
const maybeShare = v.optional(v.nullable(share));
const word = v.picklist(plantMotionWords);

/** Lulls below a speed [m/s]: share of time [0..1], mean length and expected wait from a random instant [s]. */
const lull = v.looseObject({
  belowMs: v.nullable(number),
  shareOfTime: v.nullable(share),
  meanLengthS: v.nullable(number),
  expectedWaitS: v.nullable(number),
});

/**
 * One instant of the forecast. A value that its inputs did not allow is null, and the input is named in `missing`.
 *
 * - `sun.altitudeDeg` geometric; `apparentAltitudeDeg` with refraction; `azimuthDeg` from north, clockwise
 * - `light.illuminanceLux` on the level [lx]; `diffuseShare` of it from the sky [0..1]
 * - `wind.forecastMs` mean at `forecastHeightM`; `atPlantMs` and `gustAtPlantMs` at the plant [m/s]
 * - `lull`: share of time below `belowMs`, mean length and expected wait from a random instant [s]
 * - `air.temperatureC` [°C], `relativeHumidity` [0..1], `dewPointC` [°C]
 * - `drops`: chance of drops left from rain, and of dew [0..1]
 *
 * Beside the contract's keys, each left out by older writers:
 * - `sun.horizonDeg` what stands in its direction [°], `clearsHorizon` whether it stands above that, `solarTimeH` 12
 *   when it stands highest; `light.litSideLux`, `shadedSideLux`, `sidesStops` of something upright
 * - `wind.fromDeg`; `rangeMs` what the wind at the plant may be, `word` and `rangeWords` for it, `inWords` the two
 *   in one; `air.surfaceTemperatureC` of a dry leaf, `nearGroundC` as the forecast has it [°C]
 * - `drops.rainWaterMm`, `dewWaterMm` on the leaves, `driesInH` at this hour's rate; null where it does not dry
 * - `open`: how far a flower of each habit is open [0..1]; `leadH` how far the forecast looks ahead [h]
 * - `words`: the hour in a sentence
 */
export const whenHourSchema = v.looseObject({
  time: instant,
  sun: v.looseObject({
    altitudeDeg: number,
    apparentAltitudeDeg: number,
    azimuthDeg: number,
    horizonDeg: v.optional(number),
    clearsHorizon: v.optional(v.boolean()),
    solarTimeH: v.optional(number),
  }),
  light: v.looseObject({
    illuminanceLux: v.nullable(number),
    diffuseShare: v.nullable(share),
    litSideLux: maybe,
    shadedSideLux: maybe,
    sidesStops: maybe,
  }),
  wind: v.looseObject({
    forecastMs: v.nullable(number),
    forecastHeightM: number,
    atPlantMs: v.nullable(number),
    gustAtPlantMs: v.nullable(number),
    factors: v.array(sourcedFactor),
    fromDeg: maybe,
    rangeMs: v.optional(v.nullable(v.tuple([number, number]))),
    word: v.optional(v.nullable(word)),
    rangeWords: v.optional(v.nullable(v.tuple([word, word]))),
    inWords: v.optional(v.nullable(v.string())),
  }),
  lull,
  air: v.looseObject({
    temperatureC: v.nullable(number),
    relativeHumidity: v.nullable(share),
    dewPointC: v.nullable(number),
    surfaceTemperatureC: maybe,
    nearGroundC: maybe,
  }),
  drops: v.looseObject({
    fromRain: v.nullable(share),
    fromDew: v.nullable(share),
    rainWaterMm: v.optional(number),
    dewWaterMm: v.optional(number),
    driesInH: maybe,
  }),
  insects: v.nullable(v.picklist(['torpid', 'basking', 'flying'])),
  insectsInNumbers: v.optional(v.nullable(v.boolean())),
  open: v.optional(
    v.looseObject({
      'needs sun': v.nullable(share),
      morning: v.nullable(share),
      'shut by noon': v.nullable(share),
    }),
  ),
  lightingRatioStops: maybe,
  rainChance: maybeShare,
  thunderChance: maybeShare,
  fog: maybeShare,
  leadH: maybe,
  words: v.optional(v.string()),
  missing: v.array(v.string()),
});

/** Past the third day: which part of which day by the sun, and in one word how good. */
const dayPart = {
  date: v.string(),
  part: v.picklist(['early', 'morning', 'midday', 'afternoon', 'evening', 'night']),
  word: v.picklist(['good', 'fair', 'poor']),
};

/**
 * A span of hours that suits a wanted picture; `suitability` is that of its weakest factor [0..1], named in `weakest`.
 *
 * `best` is the hour that the factors are of; `lull` counts below what the picture bears; `part` is null where hours
 * are told apart; `hints` are sentences about wishes that pull against each other, and the way there and back.
 */
export const whenWindowSchema = v.looseObject({
  wanted: v.string(),
  site: v.string(),
  from: instant,
  to: instant,
  suitability: share,
  factors: v.array(judgedFactor),
  best: v.optional(instant),
  weakest: v.optional(v.string()),
  lull: v.optional(v.nullable(lull)),
  part: v.optional(v.nullable(v.looseObject(dayPart))),
  leadH: maybe,
  hints: v.optional(v.array(v.string())),
});

/** A wanted picture that no hour suits: its best hour, and the one factor that fails there. */
export const whenMissSchema = v.looseObject({
  wanted: v.string(),
  site: v.string(),
  best: instant,
  failing: v.string(),
  why: v.string(),
  value: v.optional(share),
  hints: v.optional(v.array(v.string())),
});

/** What it is like now, what changes next, and when it next suits any close-up; or why that cannot be told. */
export const whenHereSchema = v.variant('kind', [
  v.looseObject({
    kind: v.literal('now'),
    time: instant,
    words: v.string(),
    next: v.array(v.string()),
    closeUp: v.nullable(whenWindowSchema),
    windows: v.array(whenWindowSchema),
  }),
  v.looseObject({ kind: v.literal('notCovered'), why: v.string() }),
]);

/** A part of a day past the third, for one wanted picture, or for any close-up where `wanted` is null. */
export const whenOutlookSchema = v.looseObject({
  ...dayPart,
  from: instant,
  to: instant,
  wanted: v.nullable(v.string()),
  weakest: v.string(),
  why: v.string(),
});

/**
 * The document. `sunOnPlant` are the stretches in which the sun clears the place's horizon, `notes` the forecast's own
 * definitions, `failed` what of the forecast could not be read.
 */
export const whenSchema = v.looseObject({
  schema: v.literal('tepal/when/1'),
  site: v.looseObject({ latitudeDeg: number, longitudeDeg: number, altitudeM: v.nullable(number) }),
  forecast: v.looseObject({
    source: v.string(),
    issuedAt: v.nullable(instant),
    ageH: v.nullable(number),
    credit: v.optional(v.string()),
  }),
  hours: v.array(whenHourSchema),
  windows: v.array(whenWindowSchema),
  misses: v.array(whenMissSchema),
  cautions: v.array(v.string()),
  here: v.optional(whenHereSchema),
  outlook: v.optional(v.array(whenOutlookSchema)),
  sunOnPlant: v.optional(v.array(v.looseObject({ from: instant, to: instant }))),
  notes: v.optional(v.array(v.string())),
  failed: v.optional(v.array(failedFile)),
});

export type WhenHour = Known<v.InferOutput<typeof whenHourSchema>>;
export type WhenWindow = Known<v.InferOutput<typeof whenWindowSchema>>;
export type WhenMiss = Known<v.InferOutput<typeof whenMissSchema>>;
export type WhenDocument = Known<v.InferOutput<typeof whenSchema>>;
