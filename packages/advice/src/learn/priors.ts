/**
 * What is thought of a photographer, a site, a plant and a lens before any frame was measured. Each is a normal law on
 * the natural log of a factor on a standard deviation; 1 is what the formulas take as typical.
 *
 * Assumptions, no source, unless said: nobody has published how photographers differ. They agree with the ranges that
 * the exposure advice gives without learning: hands and plants to a factor of 1.65 (0.5 in the log), the wind at the
 * plant on a day to about 1.4.
 */
import type { NormalPrior } from '@tepal/science';

/** Hands, all supports: with `support` beside it 0.5 in all. */
export const HANDS: NormalPrior = { mean: 0, spread: 0.4 };
/** One support against the others of the same hands. */
export const SUPPORT: NormalPrior = { mean: 0, spread: 0.3 };
/** The hands of one day. */
export const HANDS_OF_DAY: NormalPrior = { mean: 0, spread: 0.15 };
/** How far the plane of focus lies off the point. */
export const PLACEMENT: NormalPrior = { mean: 0, spread: 0.5 };
/** The wind of a site against its forecast brought down to the plant. */
export const SITE_WIND: NormalPrior = { mean: 0, spread: 0.3 };
/** What one day's forecast is wrong by. */
export const WIND_OF_DAY: NormalPrior = { mean: 0, spread: 0.25 };
/** The wind in which the photographer releases, against the mean wind: lulls are waited for. */
export const LULL: NormalPrior = { mean: -0.2, spread: 0.2 };
/** How much one plant sways against its kind of stem. */
export const PLANT: NormalPrior = { mean: 0, spread: 0.5 };
/** The floor of a lens and a file kind. */
export const FLOOR: NormalPrior = { mean: 0, spread: 0.3 };
/** One aperture of that lens against the others. */
export const FLOOR_AT_APERTURE: NormalPrior = { mean: 0, spread: 0.15 };
/** Share of blurred frames deleted before they were measured, as log odds: about half, anything possible. */
export const DELETED: NormalPrior = { mean: 0, spread: 1.5 };

/** Share of sharp frames deleted all the same. Assumption. */
export const SHARP_DELETED = 0.05;

/**
 * What lens, filter, demosaicing and sharpening add to pixel and diffraction in a frame in which nothing moved: about
 * half a pixel. Assumption; the floor's own spread covers a lens twice as bad.
 */
export const RENDERING_SIGMA_PX = 0.5;

/** Beaufort numbers as felt are right to a factor of 1.4. Assumption. */
export const FELT_WIND_SPREAD = 0.35;

/** Measured sigmas are at best right to this share, whatever their own interval says. */
export const LEAST_SPREAD = 0.05;

/** What the chance of the cause is at most believed. */
export const MOST_TRUST = 0.9;

/** Magnifications that a close-up of unknown scale may have, equally likely. */
export const POSSIBLE_MAGNIFICATIONS = [0.1, 0.18, 0.32, 0.56, 1] as const;

/** Wind at the plant where no forecast was kept [m/s], and how far it may be out in the log. */
export const UNKNOWN_WIND_MS = 0.7;
export const UNKNOWN_WIND: NormalPrior = { mean: 0, spread: 0.8 };

/** Time after which hands and plant have forgotten themselves [s]. */
export const FORGETTING_S = 0.7;
