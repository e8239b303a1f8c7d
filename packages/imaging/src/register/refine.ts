/** Gauss-Newton refinement of a similarity with gain and offset, and what it leaves. */
import type { Kernel } from '../kernel.ts';
import { layGrid, type DisplacementGrid } from './displacement.ts';
import type { LaidLevel } from './laid-picture.ts';
import type { SimilarityTerms } from './similarity.ts';
import { solveSymmetric } from './solve.ts';

/** A similarity from reference to moving (both from their centres), and reference = gain x moving + offset. */
export interface Alignment {
  readonly terms: SimilarityTerms;
  readonly gain: number;
  readonly offset: number;
  readonly correlation: number;
  /** The size of a residual above which it counts less, in the pictures' codes. */
  readonly spread: number;
}

/**
 * Of the residuals' sigma. Huber's own constant is 1.345 for normal errors; what defocus and cover leave has long
 * tails, and on rendered series 0.4 to 0.6 left the corners a fifth nearer to the truth.
 */
const SPREAD = 0.45;
const UNKNOWNS = 6;
const MOST_STEPS = 12;
const SUMS = 79;

/** How hard to try: samples of the grid, the step of the corners [px] that ends it, and whether to correlate at the end. */
export interface RefineEffort {
  readonly samples: number;
  readonly enoughPx: number;
  readonly correlate: boolean;
}

/**
 * Refines an alignment at one size until a step moves the corners by less than `effort.enoughPx`.
 *
 * Minimises the robust sum of (reference - gain moving - offset)² over a grid of about `effort.samples` pixels.
 */
export function refine(
  kernel: Kernel,
  reference: LaidLevel,
  moving: LaidLevel,
  start: Alignment,
  effort: RefineEffort,
): Alignment {
  const corner = Math.hypot(reference.width, reference.height) / 2;
  let now = start;
  let { spread } = start;
  for (let i = 0; i < MOST_STEPS; i++) {
    const sums = accumulate(kernel, reference, moving, now, spread, effort.samples);
    if (sums.count < 64) break;
    const delta = solveSymmetric(sums.normal, sums.right, UNKNOWNS);
    if (delta === null) break;
    const [da, db, dx, dy, dGain, dOffset] = delta as [number, number, number, number, number, number];
    const { terms } = now;
    // The turn and the scale are solved per half-diagonal, so that all unknowns are of the order of a pixel.
    now = {
      terms: { a: terms.a + da / corner, b: terms.b + db / corner, x: terms.x + dx, y: terms.y + dy },
      gain: Math.min(4, Math.max(0.25, now.gain + dGain)),
      offset: now.offset + dOffset,
      correlation: sums.correlation,
      spread: sums.spread,
    };
    spread = sums.spread;
    if (i > 0 && Math.hypot(da, db) + Math.hypot(dx, dy) < effort.enoughPx) break;
  }
  if (!effort.correlate) return now;
  const { correlation, spread: left } = accumulate(kernel, reference, moving, now, Infinity, effort.samples);
  return { ...now, correlation, spread: left };
}

interface Sums {
  readonly normal: Float64Array;
  readonly right: Float64Array;
  readonly count: number;
  readonly spread: number;
  readonly correlation: number;
}

/** Pixels of the reference between samples, for at most about so many. */
export function samplingStep({ width, height }: LaidLevel, samples: number): number {
  return Math.max(1, Math.round(Math.sqrt((width * height) / samples)));
}

function accumulate(
  kernel: Kernel,
  reference: LaidLevel,
  moving: LaidLevel,
  now: Alignment,
  spread: number,
  samples: number,
): Sums {
  const { a, b, x, y } = now.terms;
  const mark = kernel.mark();
  const out = kernel.reserve(SUMS * 8);
  kernel.run.alignSums(
    reference.pointer,
    reference.width,
    reference.height,
    moving.pointer,
    moving.width,
    moving.height,
    a,
    -b,
    x + (moving.width - 1) / 2,
    b,
    a,
    y + (moving.height - 1) / 2,
    now.gain,
    now.offset,
    Math.hypot(reference.width, reference.height) / 2,
    samplingStep(reference, samples),
    spread,
    reference.top,
    moving.top,
    out,
  );
  const sums = kernel.float64(out, SUMS).slice();
  kernel.release(mark);
  const product = (i: number, j: number) => sums[Math.min(i, j) * 8 + Math.max(i, j)]!;
  // The slopes of the similarity are sums of those of the affine motion: each row is a list of (sign, which).
  const parts = [
    [
      [1, 0],
      [1, 3],
    ],
    [
      [1, 2],
      [-1, 1],
    ],
    [[1, 4]],
    [[1, 5]],
    [[1, 6]],
    [[1, 7]],
  ] as const;
  const normal = new Float64Array(UNKNOWNS * UNKNOWNS);
  const right = new Float64Array(UNKNOWNS);
  parts.forEach((row, i) => {
    for (const [sign, which] of row) right[i]! += sign * sums[64 + which]!;
    parts.forEach((column, j) => {
      for (const [sign, which] of row) {
        for (const [other, partner] of column)
          normal[i * UNKNOWNS + j]! += sign * other * product(which, partner);
      }
    });
  });
  const [count = 0, absolute = 0, sr = 0, sm = 0, srr = 0, smm = 0, srm = 0] = sums.subarray(72);
  const vr = srr - (sr * sr) / count;
  const vm = smm - (sm * sm) / count;
  const correlation = vr > 0 && vm > 0 ? (srm - (sr * sm) / count) / Math.sqrt(vr * vm) : 0;
  // The scale is taken from the mean absolute residual: 0.7979 sigma for a normal one.
  return { normal, right, count, spread: (SPREAD * absolute) / count / 0.7979, correlation };
}

/**
 * Root mean square of the motion that is left under a grid of displacements, from the shift at each of its nodes.
 *
 * Nodes without structure in both directions are left out; each counts by its structure.
 *
 * @param light reference = gain x moving + offset
 * @returns px; 0 where no node has structure
 */
export function remainingMotion(
  kernel: Kernel,
  reference: LaidLevel,
  moving: LaidLevel,
  grid: DisplacementGrid,
  light: { readonly gain: number; readonly offset: number },
): number {
  const mark = kernel.mark();
  const places = grid.columns * grid.rows;
  const nodes = layGrid(kernel, grid);
  const out = kernel.reserve(places * 24);
  kernel.run.nodeSums(
    reference.pointer,
    reference.width,
    reference.height,
    moving.pointer,
    moving.width,
    moving.height,
    nodes,
    grid.cellPx,
    grid.columns,
    grid.rows,
    light.gain,
    light.offset,
    samplingStep(reference, 40_000),
    Infinity,
    out,
  );
  const sums = kernel.float32(out, places * 6).slice();
  kernel.release(mark);
  let all = 0;
  for (let at = 0; at < sums.length; at += 6) all += sums[at]! + sums[at + 2]!;
  let weights = 0;
  let squares = 0;
  for (let at = 0; at < sums.length; at += 6) {
    const [xx, xy, yy, xr, yr] = [sums[at]!, sums[at + 1]!, sums[at + 2]!, sums[at + 3]!, sums[at + 4]!];
    const trace = xx + yy;
    const determinant = xx * yy - xy * xy;
    if (!(trace > (0.2 * all) / places && determinant > 0.01 * trace * trace)) continue;
    const dx = (yy * xr - xy * yr) / determinant;
    const dy = (xx * yr - xy * xr) / determinant;
    weights += trace;
    squares += trace * (dx * dx + dy * dy);
  }
  return weights > 0 ? Math.sqrt(squares / weights) : 0;
}
