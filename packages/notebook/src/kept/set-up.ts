/** A set-up: what was set, at the subject, at one moment of an outing. */
import * as v from 'valibot';
import { above0, id, instant, oneOf, prose, within, type Kept } from './fields.ts';
import { SUPPORTS } from './kit.ts';
import { positionSchema } from './position.ts';

/** fNumber as marked [1], exposureTimeS exact [s], iso [1]. */
export const exposureSchema = v.looseObject({
  fNumber: above0(200, ''),
  exposureTimeS: above0(86_400, 's'),
  iso: above0(10_000_000, ''),
});

/**
 * What was set.
 *
 * - position: where, if it was taken; private
 * - support: how the camera was held, from the kit's words; null where not noted, never a default
 * - magnification: image size over subject size [1]; null where not known
 * - backgroundDistanceMm: from the plane of focus to what lies behind [mm]
 * - lightModifierIds: of the kit, those in use
 */
export const setUpSchema = v.looseObject({
  id,
  outingId: id,
  subjectId: v.nullable(id),
  wantedPictureId: v.nullable(id),
  at: instant,
  position: v.nullable(positionSchema),
  cameraId: v.nullable(id),
  lensId: v.nullable(id),
  support: v.nullable(oneOf(SUPPORTS)),
  magnification: v.nullable(within(0, 20, 'times life size')),
  backgroundDistanceMm: v.nullable(above0(1e8, 'mm')),
  lightModifierIds: v.array(id, 'a list of identifiers'),
  exposure: v.nullable(exposureSchema),
  notes: prose,
});

export type SetUp = Kept<v.InferOutput<typeof setUpSchema>>;
export type KeptExposure = Kept<v.InferOutput<typeof exposureSchema>>;
