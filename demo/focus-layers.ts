/** A focus series from one photograph and its measured depth: layers by disparity, each blurred by its own disc. */
import { blurPlane, clampIndex, discKernel, type LinearPicture } from './optics.ts';

/** Disparities closer than this share a layer [codes of the disparity map]. */
const LAYER_DEPTH = 8;

/**
 * One frame of the series, layer over layer from far to near, so that a blurred leaf spreads over what lies behind it.
 *
 * What lies hidden behind an edge is not known; there the layers behind are spread out to fill it.
 *
 * @param disparity one code a pixel, larger is nearer, without holes
 * @param focusAt the code that is sharp
 * @param discPxPerCode diameter of the blur disc for each code away from it [px]
 */
export function focusedAt(
  scene: LinearPicture,
  disparity: Float32Array,
  focusAt: number,
  discPxPerCode: number,
): LinearPicture {
  const { width, height } = scene;
  const planes = scene.planes.map(() => new Float32Array(width * height));
  const covered = new Float32Array(width * height);
  const nearest = disparity.reduce((most, d) => Math.max(most, d), 0);
  const layerOf = Int16Array.from(disparity, (d) => Math.floor(d / LAYER_DEPTH));
  for (let layer = 0; layer <= Math.floor(nearest / LAYER_DEPTH); layer++) {
    const mask = Float32Array.from(layerOf, (own) => (own === layer ? 1 : 0));
    if (!mask.some((share) => share > 0)) continue;
    const away = Math.abs((layer + 0.5) * LAYER_DEPTH - focusAt);
    const diameter = Math.max(0.4, (away - LAYER_DEPTH / 2) * discPxPerCode);
    const disc = discKernel(diameter);
    const share = blurPlane(mask, width, height, disc);
    scene.planes.forEach((plane, c) => {
      const lit = blurPlane(
        plane.map((v, i) => v * mask[i]!),
        width,
        height,
        disc,
      );
      const under = planes[c]!;
      for (let i = 0; i < under.length; i++) under[i] = under[i]! * (1 - share[i]!) + lit[i]!;
    });
    for (let i = 0; i < covered.length; i++) covered[i] = covered[i]! * (1 - share[i]!) + share[i]!;
  }
  planes.forEach((plane) => {
    for (let i = 0; i < plane.length; i++) plane[i] = plane[i]! / Math.max(covered[i]!, 0.05);
  });
  return { width, height, planes };
}

/** Fills the holes of a disparity map (code 0) with the farther of the nearest known codes to the left and right. */
export function filled(codes: Uint8Array, width: number, height: number): Float32Array {
  const out = new Float32Array(codes.length);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    const left = new Float32Array(width);
    let last = 0;
    for (let x = 0; x < width; x++) left[x] = last = codes[row + x]! > 0 ? codes[row + x]! : last;
    last = 0;
    for (let x = width - 1; x >= 0; x--) {
      last = codes[row + x]! > 0 ? codes[row + x]! : last;
      const known = [left[x]!, last].filter((code) => code > 0);
      out[row + x] = known.length === 0 ? out[clampIndex(y - 1, height) * width + x]! : Math.min(...known);
    }
  }
  return out;
}
