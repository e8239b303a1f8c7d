/** A site: a place one goes to. Its name and position tell where a rare plant stands, so all of it is private. */
import * as v from 'valibot';
import { above0, id, name, oneOf, prose, within, type Kept } from './fields.ts';
import { positionSchema } from './position.ts';

/** How the ground and what grows on it keep the wind off, as one sees it standing there. */
export const SHELTERS = ['open', 'grassy', 'hedged', 'wooded', 'hollow'] as const;

/** The form of the ground that changes the wind most at the site. */
export const LANDFORMS = ['flat', 'crest', 'hill', 'escarpment', 'valley', 'hollow'] as const;

/**
 * A landform near the site.
 *
 * - heightM: from its foot to its top [m], 0 where flat
 * - halfLengthM: from the top to where the ground has half that height, upwind [m], > 0
 * - bearingDeg: the direction across it, upslope [deg from north, clockwise], 0 to 360
 */
export const landformSchema = v.looseObject({
  kind: oneOf(LANDFORMS),
  heightM: within(0, 5000, 'm'),
  halfLengthM: above0(50_000, 'm'),
  bearingDeg: within(0, 360, 'degrees from north'),
});

/**
 * The hedge, wall or wood's edge that shelters the subject most.
 *
 * - heightM: its height [m]; porosity: share of gaps, 0 a wall to 1 none of it there; about 0.4 to 0.6 for a hedge
 * - distanceM: from the subject straight to it [m]; bearingDeg: in which direction it lies [deg from north, clockwise]
 * - halfLengthM: from there to its nearer end [m]; null for long both ways
 */
export const barrierSchema = v.looseObject({
  heightM: above0(60, 'm'),
  porosity: within(0, 1, 'share of gaps'),
  distanceM: above0(5000, 'm'),
  bearingDeg: within(0, 360, 'degrees from north'),
  halfLengthM: v.nullable(above0(50_000, 'm')),
});

/** A point of the horizon as measured: azimuthDeg [deg from north, clockwise], altitudeDeg above the level [deg]. */
export const horizonPointSchema = v.looseObject({
  azimuthDeg: within(0, 360, 'degrees from north'),
  altitudeDeg: within(0, 90, 'degrees'),
});

/**
 * A place one goes to.
 *
 * - region: the county or wider area, a name that may be told when the place may not; null for none
 * - slopeDeg: steepness of the ground [deg], 0 level to 90; null where not known
 * - aspectDeg: the direction in which it falls [deg from north, clockwise], 0 to 360; null where level or not known
 * - vegetationHeightM: height of the stand around the subject [m]; null where not known
 * - barrier: left out or null for none; horizon: points round it, straight between them; left out or null where open
 * - access: how one gets there; cautions: what to mind there, one sentence each
 */
export const siteSchema = v.looseObject({
  id,
  name,
  region: v.nullable(name),
  position: positionSchema,
  shelter: v.nullable(oneOf(SHELTERS)),
  slopeDeg: v.nullable(within(0, 90, 'degrees')),
  aspectDeg: v.nullable(within(0, 360, 'degrees from north')),
  vegetationHeightM: v.nullable(within(0, 60, 'm')),
  landform: v.nullable(landformSchema),
  barrier: v.optional(v.nullable(barrierSchema)),
  horizon: v.optional(v.nullable(v.array(horizonPointSchema, 'a list of points of the horizon'))),
  access: prose,
  cautions: v.array(name, 'a list of sentences'),
  notes: prose,
});

export type Site = Kept<v.InferOutput<typeof siteSchema>>;
export type SiteBarrier = Kept<v.InferOutput<typeof barrierSchema>>;
export type Landform = Kept<v.InferOutput<typeof landformSchema>>;
