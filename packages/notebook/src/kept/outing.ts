/** An outing: one visit to a site, with the weather as it was forecast and as it was found. */
import * as v from 'valibot';
import { id, instant, name, oneOf, prose, whole, within, type Kept } from './fields.ts';
import { LIGHTS } from './wanted-picture.ts';

/**
 * The forecast that the outing was planned by, for the hour it began.
 *
 * - issuedAt: when the forecast was made; source: whose it is, with the credit it asks for
 * - windSpeedMs, gustSpeedMs: 10 m above open ground [m/s]; temperatureC: air [deg C]
 * - cloudShare: sky covered, 0 to 1
 */
export const weatherForecastSchema = v.looseObject({
  source: name,
  issuedAt: v.nullable(instant),
  windSpeedMs: v.nullable(within(0, 120, 'm/s')),
  gustSpeedMs: v.nullable(within(0, 150, 'm/s')),
  temperatureC: v.nullable(within(-90, 60, 'degrees C')),
  relativeHumidity: v.nullable(within(0, 1, '')),
  cloudShare: v.nullable(within(0, 1, '')),
});

/** The weather as found: light in words, drops seen or not, air temperature [deg C]. Null where not looked at. */
export const weatherFoundSchema = v.looseObject({
  light: v.nullable(oneOf(LIGHTS)),
  drops: v.nullable(v.boolean('yes or no')),
  temperatureC: v.nullable(within(-90, 60, 'degrees C')),
});

/**
 * One visit.
 *
 * - siteId: null where it went to no kept site
 * - startedAt, endedAt: with the offset of the place; endedAt null while it lasts
 * - feltWindBeaufort: at the subject's height, as felt (Beaufort, 0 to 12); null where not noted
 * - cameraClockOffsetS: what to add to the camera's time to get the true one [s]; null where not found yet
 */
export const outingSchema = v.looseObject({
  id,
  siteId: v.nullable(id),
  startedAt: instant,
  endedAt: v.nullable(instant),
  forecast: v.nullable(weatherForecastSchema),
  found: v.nullable(weatherFoundSchema),
  feltWindBeaufort: v.nullable(whole(0, 12)),
  cameraClockOffsetS: v.nullable(within(-1e9, 1e9, 's')),
  notes: prose,
});

export type Outing = Kept<v.InferOutput<typeof outingSchema>>;
export type WeatherForecast = Kept<v.InferOutput<typeof weatherForecastSchema>>;
export type WeatherFound = Kept<v.InferOutput<typeof weatherFoundSchema>>;
