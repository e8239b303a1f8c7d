/** The magnification found again: from frames of a ruler, one line a lens, or from something of known width. */
import { DomainError, requirePositive } from '../../domain-error.ts';

/**
 * Magnification from one length known on both sides: m = pixels x pitch / length.
 *
 * @param imagePx the length in the frame [px], > 0
 * @param pixelUm pixel pitch [µm], > 0
 * @param subjectMm the length itself [mm], > 0, lying in the plane of focus
 * @returns m [1]
 * @throws DomainError
 */
export function magnificationOfLength(imagePx: number, pixelUm: number, subjectMm: number): number {
  return (
    (requirePositive('imagePx', imagePx, 'px') * requirePositive('pixelUm', pixelUm, 'µm')) /
    (1000 * requirePositive('subjectMm', subjectMm, 'mm'))
  );
}

/** One frame of a ruler: what the lens said of its focus, and the magnification read off the ruler. */
export interface RulerFrame {
  /** As the lens shows or records it [mm], > 0. */
  readonly focusDistanceMm: number;
  readonly magnification: number;
}

/** m = intercept + slope / D for one lens. */
export interface MagnificationLine {
  readonly intercept: number;
  /** [mm]. */
  readonly slopeMm: number;
  /** The distances between which it was measured [mm]. */
  readonly nearestMm: number;
  readonly farthestMm: number;
  /** Root mean square of what the frames lie off the line, over the largest magnification [1]; 0 for one frame. */
  readonly relativeError: number;
}

/**
 * The line of a lens: magnification against the inverse of the focus distance, by least squares. One frame gives a
 * line through infinity, where the magnification is 0. A true lens bends a little from it: fit over the range in use.
 *
 * @param frames at least one; more than one must differ in distance
 * @throws DomainError
 * @source common practice, no source; a thin lens lies within 0.05 of its line from 1:10 to 1:2
 */
export function magnificationLine(frames: readonly RulerFrame[]): MagnificationLine {
  if (frames.length === 0) throw new DomainError('empty', 'at least one frame of a ruler', 'frames', 'none');
  const points = frames.map((frame) => ({
    x: 1 / requirePositive('focusDistanceMm', frame.focusDistanceMm, 'mm'),
    y: requirePositive('magnification', frame.magnification),
  }));
  const distances = frames.map((frame) => frame.focusDistanceMm);
  const range = { nearestMm: Math.min(...distances), farthestMm: Math.max(...distances) };
  if (points.length === 1) {
    const { x, y } = points[0]!;
    return { intercept: 0, slopeMm: y / x, ...range, relativeError: 0 };
  }
  if (!(range.farthestMm > range.nearestMm * (1 + 1e-9))) {
    throw new DomainError(
      'wrongOrder',
      'frames at different distances',
      'frames',
      `${range.nearestMm} mm alone`,
    );
  }
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length;
  let xx = 0;
  let xy = 0;
  for (const { x, y } of points) {
    xx += (x - meanX) ** 2;
    xy += (x - meanX) * (y - meanY);
  }
  const slopeMm = xy / xx;
  const intercept = meanY - slopeMm * meanX;
  const squares = points.reduce((sum, { x, y }) => sum + (y - intercept - slopeMm * x) ** 2, 0);
  const largest = Math.max(...points.map(({ y }) => y));
  return { intercept, slopeMm, ...range, relativeError: Math.sqrt(squares / points.length) / largest };
}

/**
 * The magnification at a focus distance.
 *
 * @returns a magnification and whether the distance lies within the frames measured; or the word that the line has
 *   none there
 * @throws DomainError
 */
export function magnificationAt(
  line: MagnificationLine,
  focusDistanceMm: number,
):
  | { readonly kind: 'found'; readonly magnification: number; readonly withinMeasured: boolean }
  | { readonly kind: 'none' } {
  const D = requirePositive('focusDistanceMm', focusDistanceMm, 'mm');
  const magnification = line.intercept + line.slopeMm / D;
  if (!(magnification > 0)) return { kind: 'none' };
  const slack = 1 + 1e-9;
  return {
    kind: 'found',
    magnification,
    withinMeasured: D * slack >= line.nearestMm && D <= line.farthestMm * slack,
  };
}
