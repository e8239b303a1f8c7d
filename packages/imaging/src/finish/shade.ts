/** Shaded parts filled, as a reflector would: local, along the edges of light and shade. */
import { requireInRange } from '@tepal/science';
import type { LinearPicture } from '../develop/linear-picture.ts';
import { enlargedRow } from './plane/box-blur.ts';
import { guidedLines } from './plane/guided-filter.ts';
import { MID_GREY } from './light.ts';
import { luminance, stopsOf } from './plane/luminance.ts';

export interface FillShade {
  /** How much the deepest shade is lifted [stops], 0 to 3. */
  readonly stops: number;
}

/** Below this the shade begins [stops from white]: mid-grey. */
const BEGINS = Math.log2(MID_GREY);

/** Half the window as a share of the longer side, and the contrast that counts as an edge [stops]. */
const RADIUS = 0.03;
const EDGE_STOPS = 0.5;

/** Spatial steps work on a copy whose longer side is at most this [px]. */
export const SMALL_SIDE_PX = 700;

/**
 * Lifts what lies in shade, in place.
 *
 * The surroundings of a pixel (not its own texture) say whether it lies in shade: the picture in stops, smoothed along
 * its edges. Below mid-grey the lift grows smoothly to its full amount; it never grows faster than the shade gets
 * deeper, so light and shade do not change places. Texture keeps its contrast, colours keep their ratios.
 */
export function fillShade(picture: LinearPicture, { stops }: FillShade): void {
  const lift = requireInRange('stops', stops, { what: 'a lift', unit: 'stops', min: 0, max: 3 });
  if (lift === 0) return;
  const { width, height, red, green, blue } = picture;
  const tones = stopsOf(luminance(picture));
  const factor = Math.ceil(Math.max(width, height) / SMALL_SIDE_PX);
  const { slope, offset } = guidedLines(tones, {
    radiusPx: RADIUS * Math.max(width, height),
    epsilon: EDGE_STOPS ** 2,
    factor,
  });
  // The steepest part of the smooth step is 1.5: over this span its slope stays below 1.
  const span = Math.max(3, 2 * lift);
  const slopes = new Float32Array(width);
  const offsets = new Float32Array(width);
  for (let y = 0; y < height; y += 1) {
    enlargedRow(slope, factor, y, slopes);
    enlargedRow(offset, factor, y, offsets);
    for (let x = 0; x < width; x += 1) {
      const i = y * width + x;
      const base = slopes[x]! * tones.data[i]! + offsets[x]!;
      const t = Math.min(1, Math.max(0, (BEGINS - base) / span));
      if (t === 0) continue;
      const gain = 2 ** (lift * t * t * (3 - 2 * t));
      red[i] = red[i]! * gain;
      green[i] = green[i]! * gain;
      blue[i] = blue[i]! * gain;
    }
  }
}
