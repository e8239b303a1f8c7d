/** The guided filter: smooths within areas, not across their edges. */
import { boxMean, shrink, type Plane } from './box-blur.ts';

/**
 * A smooth copy of a plane that follows its own strong edges, as a straight line a·I + b for each place.
 *
 *   a = var(I) / (var(I) + ε),  b = (1 - a) mean(I), both averaged over the window
 *
 * Worked out on a copy shrunken by `factor`; a and b are returned small, to be enlarged row by row
 * (`enlargedRow`) and applied to the full plane.
 *
 * @param radiusPx half the window, of the full plane
 * @param epsilon contrast squared below which a difference counts as texture
 * @source He, Sun and Tang 2013, Guided Image Filtering, IEEE PAMI 35, 1397, eq. 11 (guide = input); He and Sun 2015,
 * Fast Guided Filter, for the shrunken copy
 */
export function guidedLines(
  plane: Plane,
  options: { readonly radiusPx: number; readonly epsilon: number; readonly factor: number },
): { readonly slope: Plane; readonly offset: Plane } {
  const { epsilon, factor } = options;
  const small = shrink(plane, factor);
  const radius = Math.max(1, Math.round(options.radiusPx / factor));
  const mean = boxMean(small, radius);
  const squares = { ...small, data: small.data.map((value) => value * value) };
  const meanOfSquares = boxMean(squares, radius);
  const slope = new Float32Array(small.data.length);
  const offset = new Float32Array(small.data.length);
  for (let i = 0; i < slope.length; i += 1) {
    const m = mean.data[i]!;
    const variance = Math.max(0, meanOfSquares.data[i]! - m * m);
    const a = variance / (variance + epsilon);
    slope[i] = a;
    offset[i] = (1 - a) * m;
  }
  return {
    slope: boxMean({ ...small, data: slope }, radius),
    offset: boxMean({ ...small, data: offset }, radius),
  };
}

/**
 * Smooths a plane along the edges of another: for masks.
 *
 * @param guide and `plane` of the same size
 * @source He, Sun and Tang 2013, eq. 5 and 6
 */
export function guidedFilter(
  guide: Plane,
  plane: Plane,
  options: { readonly radiusPx: number; readonly epsilon: number },
): Plane {
  const { radiusPx: r, epsilon } = options;
  const product = (a: Plane, b: Plane): Plane => ({
    ...a,
    data: a.data.map((value, i) => value * b.data[i]!),
  });
  const meanGuide = boxMean(guide, r);
  const meanPlane = boxMean(plane, r);
  const meanProduct = boxMean(product(guide, plane), r);
  const meanSquare = boxMean(product(guide, guide), r);
  const slope = new Float32Array(plane.data.length);
  const offset = new Float32Array(plane.data.length);
  for (let i = 0; i < slope.length; i += 1) {
    const variance = Math.max(0, meanSquare.data[i]! - meanGuide.data[i]! ** 2);
    const a = (meanProduct.data[i]! - meanGuide.data[i]! * meanPlane.data[i]!) / (variance + epsilon);
    slope[i] = a;
    offset[i] = meanPlane.data[i]! - a * meanGuide.data[i]!;
  }
  const a = boxMean({ ...plane, data: slope }, r);
  const b = boxMean({ ...plane, data: offset }, r);
  return { ...plane, data: guide.data.map((value, i) => a.data[i]! * value + b.data[i]!) };
}
