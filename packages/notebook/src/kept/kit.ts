/** The kit: cameras, lenses, what holds them, and what shapes the light. One list, told apart by `part`. */
import * as v from 'valibot';
import { above0, id, name, oneOf, prose, whole, within, type Kept } from './fields.ts';

/** What holds the camera. */
export const SUPPORTS = ['tripod', 'beanbag', 'elbows', 'kneeling', 'standing'] as const;

/** What shapes the light at the subject. */
export const LIGHT_MODIFIERS = [
  'diffuser',
  'white reflector',
  'silver reflector',
  'shade',
  'windbreak',
] as const;

/** A camera. sensorWidthMm, sensorHeightMm [mm]; widthPx, heightPx of the full frame [px]. */
export const cameraSchema = v.looseObject({
  id,
  part: v.literal('camera'),
  name,
  sensorWidthMm: above0(200, 'mm'),
  sensorHeightMm: above0(200, 'mm'),
  widthPx: whole(1, 100_000),
  heightPx: whole(1, 100_000),
  notes: prose,
});

/**
 * A lens.
 *
 * - focalLengthMm [mm]; pupilMagnification: exit over entrance pupil [1], null where not measured
 * - minFNumber, maxFNumber as marked [1]; maxMagnification without tubes [1], null where not known
 * - stabilisationStops as its maker claims [stops], 0 for none
 */
export const lensSchema = v.looseObject({
  id,
  part: v.literal('lens'),
  name,
  focalLengthMm: above0(5000, 'mm'),
  pupilMagnification: v.nullable(above0(10, '')),
  minFNumber: above0(100, ''),
  maxFNumber: above0(200, ''),
  maxMagnification: v.nullable(above0(20, 'times life size')),
  stabilisationStops: within(0, 10, 'stops'),
  notes: prose,
});

/** Something that holds the camera, and how. */
export const supportSchema = v.looseObject({
  id,
  part: v.literal('support'),
  name,
  support: oneOf(SUPPORTS),
  notes: prose,
});

/** Something that shapes the light or stills the air at the subject. lossStops: light it takes [stops]; null unknown. */
export const lightModifierSchema = v.looseObject({
  id,
  part: v.literal('light modifier'),
  name,
  modifier: oneOf(LIGHT_MODIFIERS),
  lossStops: v.nullable(within(0, 10, 'stops')),
  notes: prose,
});

export const kitSchema = v.variant(
  'part',
  [cameraSchema, lensSchema, supportSchema, lightModifierSchema],
  'one of camera, lens, support, light modifier',
);

export type Camera = Kept<v.InferOutput<typeof cameraSchema>>;
export type Lens = Kept<v.InferOutput<typeof lensSchema>>;
export type Support = Kept<v.InferOutput<typeof supportSchema>>;
export type LightModifier = Kept<v.InferOutput<typeof lightModifierSchema>>;
export type KitPart = Camera | Lens | Support | LightModifier;
