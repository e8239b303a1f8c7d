/** Luminance of a picture, and its logarithm: what local steps look at. */
import { WORKING_LUMINANCE } from '../../colour/rgb-space.ts';
import type { LinearPicture } from '../../develop/linear-picture.ts';
import type { Plane } from './box-blur.ts';

/** Darker than this counts as this dark: 12 stops below white. */
const DARKEST = 2 ** -12;

export function luminance({ width, height, red, green, blue }: LinearPicture): Plane {
  const data = new Float32Array(red.length);
  const [kr, kg, kb] = WORKING_LUMINANCE;
  for (let i = 0; i < data.length; i += 1) data[i] = kr * red[i]! + kg * green[i]! + kb * blue[i]!;
  return { width, height, data };
}

/** Stops relative to white: 0 is white, -1 half of it; never below -12. */
export function stopsOf(plane: Plane): Plane {
  const data = new Float32Array(plane.data.length);
  for (let i = 0; i < data.length; i += 1) data[i] = Math.log2(Math.max(DARKEST, plane.data[i]!));
  return { ...plane, data };
}
