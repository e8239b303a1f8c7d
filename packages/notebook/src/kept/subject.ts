/** A subject: a taxon as it is photographed. */
import * as v from 'valibot';
import { above0, id, language, name, oneOf, prose, whole, within, type Kept } from './fields.ts';

/** How stiff the stem is, as one feels it between two fingers. */
export const STEMS = ['stiff', 'medium', 'wand'] as const;

/** When the flower is open, or the insect to be seen. */
export const OPENINGS = ['needs sun', 'morning', 'shut by noon', 'any'] as const;

/** How much harm a published place would do. Published grids hang on it (FS 8.3). */
export const SENSITIVITIES = ['none', 'low', 'medium', 'high', 'extreme'] as const;

export type Sensitivity = (typeof SENSITIVITIES)[number];

/**
 * Sway measured for this plant.
 *
 * - amplitudeMm: half the travel, from the middle to one end [mm]
 * - frequencyHz: swings to and fro a second [Hz]
 */
export const swaySchema = v.looseObject({
  amplitudeMm: within(0, 1000, 'mm'),
  frequencyHz: above0(50, 'Hz'),
});

/**
 * A taxon as photographed.
 *
 * - commonNames: by language tag
 * - heightAboveGroundM: of what must be sharp [m]
 * - sizeMm: the longer side of what is to fill the frame [mm]; depthMm: along the line of sight [mm]
 * - months: when it is out, 1 January to 12 December; empty where not known
 * - sensitivity: null until the photographer was asked; until then it counts as sensitive
 */
export const subjectSchema = v.looseObject({
  id,
  scientificName: name,
  commonNames: v.record(language, name, 'names by language'),
  heightAboveGroundM: v.nullable(within(0, 60, 'm')),
  sizeMm: v.nullable(above0(2000, 'mm')),
  depthMm: v.nullable(above0(2000, 'mm')),
  stem: v.nullable(oneOf(STEMS)),
  sway: v.nullable(swaySchema),
  opens: oneOf(OPENINGS),
  months: v.array(whole(1, 12), 'a list of months'),
  sensitivity: v.nullable(oneOf(SENSITIVITIES)),
  notes: prose,
});

export type Subject = Kept<v.InferOutput<typeof subjectSchema>>;
export type Sway = Kept<v.InferOutput<typeof swaySchema>>;
