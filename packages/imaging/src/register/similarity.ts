/** The motion between two frames of a series: shift, turn and breathing. */

/**
 * A similarity that takes a pixel p of the moving frame to q of the reference, both counted from their own centres
 * ((width - 1) / 2, (height - 1) / 2):
 *
 *   q = scale R(rotation) p + shift        R turns x towards y: clockwise as seen, since y points down
 */
export interface Similarity {
  readonly shiftPx: { readonly x: number; readonly y: number };
  readonly rotationDeg: number;
  readonly scale: number;
}

/** No motion. */
export const stillness: Similarity = { shiftPx: { x: 0, y: 0 }, rotationDeg: 0, scale: 1 };

/** The same map as q = (a p.x - b p.y + x, b p.x + a p.y + y). */
export interface SimilarityTerms {
  readonly a: number;
  readonly b: number;
  readonly x: number;
  readonly y: number;
}

/** @returns the terms of a similarity */
export function toTerms(motion: Similarity): SimilarityTerms {
  const angle = (motion.rotationDeg * Math.PI) / 180;
  return {
    a: motion.scale * Math.cos(angle),
    b: motion.scale * Math.sin(angle),
    x: motion.shiftPx.x,
    y: motion.shiftPx.y,
  };
}

/** @returns the similarity with these terms */
export function fromTerms({ a, b, x, y }: SimilarityTerms): Similarity {
  return {
    shiftPx: { x, y },
    rotationDeg: (Math.atan2(b, a) * 180) / Math.PI,
    scale: Math.hypot(a, b),
  };
}

/** @returns the terms of the way back, q to p */
export function invertTerms({ a, b, x, y }: SimilarityTerms): SimilarityTerms {
  const square = a * a + b * b;
  const ia = a / square;
  const ib = -b / square;
  return { a: ia, b: ib, x: -(ia * x - ib * y), y: -(ib * x + ia * y) };
}

/** @returns the way back */
export function invertSimilarity(motion: Similarity): Similarity {
  return fromTerms(invertTerms(toTerms(motion)));
}

/** @returns the same motion for frames `factor` times as large in pixels */
export function scaleSimilarity(motion: Similarity, factor: number): Similarity {
  return { ...motion, shiftPx: { x: motion.shiftPx.x * factor, y: motion.shiftPx.y * factor } };
}

/**
 * Where a pixel of the moving frame lies in the reference.
 *
 * @param moving size of the moving frame [px]
 * @param reference size of the reference frame [px]
 */
export function carryPoint(
  motion: Similarity,
  moving: { readonly width: number; readonly height: number },
  reference: { readonly width: number; readonly height: number },
  point: { readonly x: number; readonly y: number },
): { x: number; y: number } {
  const { a, b, x, y } = toTerms(motion);
  const px = point.x - (moving.width - 1) / 2;
  const py = point.y - (moving.height - 1) / 2;
  return {
    x: a * px - b * py + x + (reference.width - 1) / 2,
    y: b * px + a * py + y + (reference.height - 1) / 2,
  };
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** @returns the same map for pixels counted from the top-left pixel of each picture instead of its centre */
export function fromTopLeft({ a, b, x, y }: SimilarityTerms, from: Size, to: Size): SimilarityTerms {
  const cx = (from.width - 1) / 2;
  const cy = (from.height - 1) / 2;
  return {
    a,
    b,
    x: x - a * cx + b * cy + (to.width - 1) / 2,
    y: y - b * cx - a * cy + (to.height - 1) / 2,
  };
}
