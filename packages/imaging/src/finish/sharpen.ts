/** Sharpening for the size and the medium: the last step, on the pixels that are delivered. */
import { requireInRange } from '@tepal/science';
import type { LinearPicture } from '../develop/linear-picture.ts';
import { gaussianBlur } from './plane/box-blur.ts';
import { luminance } from './plane/luminance.ts';

export type Medium = 'screen' | 'glossyPaper' | 'mattPaper';

export interface Sharpening {
  readonly medium: Medium;
  /** 0 none, 1 usual, up to 2. */
  readonly strength: number;
  /** Of a print [px per inch], and the distance that it is seen from [mm]; neither for a screen. */
  readonly ppi?: number;
  readonly viewingDistanceMm?: number;
}

/**
 * What each medium takes away, as the share of contrast that is given back: paper spreads ink, matt paper most
 * (common practice, no source).
 */
const AMOUNTS: Readonly<Record<Medium, number>> = { screen: 0.45, glossyPaper: 0.7, mattPaper: 1 };

/**
 * Sigma of what is strengthened [px]: on a screen the pixel itself; on paper what the eye can just part at the
 * distance, 1 arc minute, where that is coarser than a pixel.
 *
 * @source OI 8.5: 20/20 is 1 arc minute
 */
export function sharpeningSigmaPx({ medium, ppi, viewingDistanceMm }: Sharpening): number {
  if (medium === 'screen' || ppi === undefined || viewingDistanceMm === undefined) return 0.6;
  const eyePx = (viewingDistanceMm * Math.tan(Math.PI / 180 / 60) * ppi) / 25.4;
  return Math.min(3, Math.max(0.6, 0.6 * eyePx));
}

/** Differences of lightness (0 to 1) below this are left: they are noise, not detail. */
const QUIET = 0.003;

/** How far a pixel may pass the brightest or darkest of its neighbours [lightness, 0 to 1]. */
export const HALO_LIMIT = 0.02;

/**
 * Sharpens in place, by what a Gaussian takes away, in lightness (the cube root of luminance); all channels of a pixel
 * are scaled alike, so no hue turns. A pixel passes its own neighbours by a fiftieth at most: no halos.
 */
export function sharpen(picture: LinearPicture, sharpening: Sharpening): void {
  const strength = requireInRange('strength', sharpening.strength, { min: 0, max: 2 });
  if (strength === 0) return;
  const sigma = sharpeningSigmaPx(sharpening);
  const amount = strength * AMOUNTS[sharpening.medium];
  const { width, height, red, green, blue } = picture;
  const light = luminance(picture);
  const lightness = { ...light, data: light.data.map((value) => Math.cbrt(Math.max(0, value))) };
  const soft = gaussianBlur(lightness, sigma);
  const L = lightness.data;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const i = y * width + x;
      const d = L[i]! - soft.data[i]!;
      const size = Math.abs(d);
      if (size <= QUIET) continue;
      let least = L[i]!;
      let most = L[i]!;
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v += 1) {
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u += 1) {
          const value = L[v * width + u]!;
          if (value < least) least = value;
          if (value > most) most = value;
        }
      }
      const wanted = L[i]! + amount * Math.sign(d) * (size - QUIET);
      const kept = Math.min(most + HALO_LIMIT, Math.max(Math.max(0, least - HALO_LIMIT), wanted));
      if (!(L[i]! > 1e-4)) continue;
      const gain = (kept / L[i]!) ** 3;
      red[i] = red[i]! * gain;
      green[i] = green[i]! * gain;
      blue[i] = blue[i]! * gain;
    }
  }
}
