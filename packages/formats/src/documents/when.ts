/** `tepal/when/1`: the hours at a site against a forecast, and the windows for wanted pictures. */
import * as v from 'valibot';
import { instant, judgedFactor, number, share, sourcedFactor, type Known } from './fields.ts';

/**
 * One instant of the forecast. A value that its inputs did not allow is null, and the input is named in `missing`.
 *
 * - `sun.altitudeDeg` geometric; `apparentAltitudeDeg` with refraction; `azimuthDeg` from north, clockwise
 * - `light.illuminanceLux` on the level [lx]; `diffuseShare` of it from the sky [0..1]
 * - `wind.forecastMs` mean at `forecastHeightM`; `atPlantMs` and `gustAtPlantMs` at the plant [m/s]
 * - `lull`: share of time below `belowMs`, mean length and expected wait from a random instant [s]
 * - `air.temperatureC` [°C], `relativeHumidity` [0..1], `dewPointC` [°C]
 * - `drops`: chance of drops left from rain, and of dew [0..1]
 */
export const whenHourSchema = v.looseObject({
  time: instant,
  sun: v.looseObject({ altitudeDeg: number, apparentAltitudeDeg: number, azimuthDeg: number }),
  light: v.looseObject({ illuminanceLux: v.nullable(number), diffuseShare: v.nullable(share) }),
  wind: v.looseObject({
    forecastMs: v.nullable(number),
    forecastHeightM: number,
    atPlantMs: v.nullable(number),
    gustAtPlantMs: v.nullable(number),
    factors: v.array(sourcedFactor),
  }),
  lull: v.looseObject({
    belowMs: v.nullable(number),
    shareOfTime: v.nullable(share),
    meanLengthS: v.nullable(number),
    expectedWaitS: v.nullable(number),
  }),
  air: v.looseObject({
    temperatureC: v.nullable(number),
    relativeHumidity: v.nullable(share),
    dewPointC: v.nullable(number),
  }),
  drops: v.looseObject({ fromRain: v.nullable(share), fromDew: v.nullable(share) }),
  insects: v.nullable(v.picklist(['torpid', 'basking', 'flying'])),
  missing: v.array(v.string()),
});

/** A span of hours that suits a wanted picture; `suitability` is that of its weakest factor [0..1]. */
export const whenWindowSchema = v.looseObject({
  wanted: v.string(),
  site: v.string(),
  from: instant,
  to: instant,
  suitability: share,
  factors: v.array(judgedFactor),
});

/** A wanted picture that no hour suits: its best hour, and the one factor that fails there. */
export const whenMissSchema = v.looseObject({
  wanted: v.string(),
  site: v.string(),
  best: instant,
  failing: v.string(),
  why: v.string(),
});

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
});

export type WhenHour = Known<v.InferOutput<typeof whenHourSchema>>;
export type WhenWindow = Known<v.InferOutput<typeof whenWindowSchema>>;
export type WhenMiss = Known<v.InferOutput<typeof whenMissSchema>>;
export type WhenDocument = Known<v.InferOutput<typeof whenSchema>>;
