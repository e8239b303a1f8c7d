/** Pictures at other sizes and places: halving, and reading between the pixels. */
import type { FloatImage } from '../image.ts';
import type { SimilarityTerms } from './similarity.ts';

/** The four Catmull-Rom weights for a fraction t in 0..1 between the second and the third sample. */
export function cubicWeights(t: number): readonly [number, number, number, number] {
  const t2 = t * t;
  const t3 = t2 * t;
  return [(-t3 + 2 * t2 - t) / 2, (3 * t3 - 5 * t2 + 2) / 2, (-3 * t3 + 4 * t2 + t) / 2, (t3 - t2) / 2];
}

/** Reads between pixels by Catmull-Rom cubic convolution; positions are clamped to the picture. */
export function sampleCubic(image: FloatImage, x: number, y: number): number {
  const { width, height, data } = image;
  const cx = Math.min(Math.max(x, 0), width - 1);
  const cy = Math.min(Math.max(y, 0), height - 1);
  const ix = Math.floor(cx);
  const iy = Math.floor(cy);
  const [a, b, c, d] = cubicWeights(cx - ix);
  const x0 = ix > 0 ? ix - 1 : 0;
  const x2 = ix + 1 < width ? ix + 1 : width - 1;
  const x3 = ix + 2 < width ? ix + 2 : width - 1;
  const wy = cubicWeights(cy - iy);
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    const row = Math.min(Math.max(iy - 1 + k, 0), height - 1) * width;
    sum += wy[k]! * (a * data[row + x0]! + b * data[row + ix]! + c * data[row + x2]! + d * data[row + x3]!);
  }
  return sum;
}

/**
 * The picture seen through a similarity: out(q) = image(terms q), both counted from their own centres.
 *
 * @param terms takes a pixel of the result to a place of the picture
 * @param size of the result [px]
 */
export function warp(
  image: FloatImage,
  terms: SimilarityTerms,
  size: { readonly width: number; readonly height: number },
): FloatImage {
  const { width, height } = size;
  const data = new Float32Array(width * height);
  const cx = (image.width - 1) / 2 + terms.x;
  const cy = (image.height - 1) / 2 + terms.y;
  for (let y = 0; y < height; y++) {
    const qy = y - (height - 1) / 2;
    for (let x = 0; x < width; x++) {
      const qx = x - (width - 1) / 2;
      data[y * width + x] = sampleCubic(
        image,
        terms.a * qx - terms.b * qy + cx,
        terms.b * qx + terms.a * qy + cy,
      );
    }
  }
  return { width, height, data };
}
