/** How much ISO a delivery bears: a share, not only a ceiling. */
import { ISO_DIAL, nearestDialPosition, snrAtIso } from '@tepal/science';
import { SHADOW_STOPS, type Scene } from './scene.ts';

/** ISO bounds in thirds of a stop from ISO 100. */
export interface IsoBounds {
  /**
   * Up to here noise costs nothing: even shadows three stops down have the signal to noise that ISO 12232 calls
   * excellent, at the delivery. May lie below the dial where the delivery is very large.
   */
  readonly cleanThirds: number;
  /** Up to here the midtones have it; beyond, or beyond the photographer's own ceiling, ISO is not used by choice. */
  readonly ceilingThirds: number;
}

/**
 * From shadows just excellent to midtones just excellent: three stops, since signal to noise follows the electrons
 * and the shadow has an eighth of the midtone's.
 */
const CLEAN_TO_CEILING_THIRDS = -3 * SHADOW_STOPS;

/** ISO 100: what lies below is not used unless asked for. */
export const BASE_ISO_THIRDS = 0;

/** The ISO bounds of a scene; the photographer's own ceiling counts when it is lower. */
export function isoBounds(scene: Scene): IsoBounds {
  const own = scene.request.isoCeiling;
  const limit = own === undefined ? Infinity : nearestDialPosition(ISO_DIAL, own).thirds;
  const clean = cleanThirds(scene);
  return {
    cleanThirds: Math.min(limit, clean),
    ceilingThirds: Math.min(limit, clean + CLEAN_TO_CEILING_THIRDS),
  };
}

/**
 * The share of pictures in which the noise of an ISO is borne at the delivery: 1 up to the clean ISO, one half at the
 * ceiling, 0.5^((stops over / 3)^2) between and beyond. The two anchors are ISO 12232's; the curve is ours.
 *
 * @returns 0 to 1, never rising with ISO
 */
export function noiseBorneShare(scene: Scene, isoThirds: number): number {
  const overStops = Math.max(0, isoThirds - cleanThirds(scene)) / 3;
  return 0.5 ** ((overStops / (CLEAN_TO_CEILING_THIRDS / 3)) ** 2);
}

/** An ISO position by thirds from ISO 100, at the end of the dial where it lies beyond. */
export function isoPosition(thirds: number): (typeof ISO_DIAL)[number] {
  const [first, last] = [ISO_DIAL[0]!, ISO_DIAL.at(-1)!];
  return ISO_DIAL[Math.min(last.thirds, Math.max(first.thirds, thirds)) - first.thirds]!;
}

/** Highest third stop whose shadows are excellent. Found by halving: noise only grows with ISO. */
function cleanThirds(scene: Scene): number {
  let low = -60;
  let high = 60;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    const snr = snrAtIso(scene.sensor, 100 * 2 ** (middle / 3), SHADOW_STOPS);
    if (snr >= scene.wantedSnr.midtone) low = middle;
    else high = middle;
  }
  return low;
}
