/** Gauss-Newton refinement of a similarity with gain and offset, and what it leaves. */
import type { FloatImage } from '../image.ts';
import { sampleCubic, sampleLinear } from './resample.ts';
import type { SimilarityTerms } from './similarity.ts';
import { solveSymmetric } from './solve.ts';

/** A similarity from reference to moving (both from their centres), and reference = gain x moving + offset. */
export interface Alignment {
  readonly terms: SimilarityTerms;
  readonly gain: number;
  readonly offset: number;
  readonly correlation: number;
}

const UNKNOWNS = 6;
const MOST_STEPS = 12;
const SAMPLES = 40_000;

/**
 * Refines an alignment at one size until a step moves the corners by less than 0.003 px.
 *
 * Minimises the robust sum of (reference - gain moving - offset)² over a grid of at most about 40,000 samples.
 */
export function refine(reference: FloatImage, moving: FloatImage, start: Alignment): Alignment {
  const slopes = gradients(moving);
  const step = Math.max(1, Math.round(Math.sqrt((reference.width * reference.height) / SAMPLES)));
  const corner = Math.hypot(reference.width, reference.height) / 2;
  let now = start;
  let spread = Infinity;
  for (let i = 0; i < MOST_STEPS; i++) {
    const sums = accumulate(reference, moving, slopes, now, step, spread);
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
    };
    spread = sums.spread;
    if (i > 0 && Math.hypot(da, db) + Math.hypot(dx, dy) < 0.003) break;
  }
  return { ...now, correlation: accumulate(reference, moving, slopes, now, step, Infinity).correlation };
}

interface Sums {
  readonly normal: Float64Array;
  readonly right: Float64Array;
  readonly count: number;
  readonly spread: number;
  readonly correlation: number;
}

function accumulate(
  reference: FloatImage,
  moving: FloatImage,
  slopes: Gradients,
  now: Alignment,
  step: number,
  spread: number,
): Sums {
  const { a, b, x: tx, y: ty } = now.terms;
  const { width, height } = moving;
  const normal = new Float64Array(UNKNOWNS * UNKNOWNS);
  const right = new Float64Array(UNKNOWNS);
  const corner = Math.hypot(reference.width, reference.height) / 2;
  const j = new Float64Array(UNKNOWNS);
  let count = 0;
  let absolute = 0;
  let [sr, sm, srr, smm, srm] = [0, 0, 0, 0, 0];
  const margin = 2;
  for (let y = step >> 1; y < reference.height; y += step) {
    const qy = y - (reference.height - 1) / 2;
    for (let x = step >> 1; x < reference.width; x += step) {
      const qx = x - (reference.width - 1) / 2;
      const px = a * qx - b * qy + tx + (width - 1) / 2;
      const py = b * qx + a * qy + ty + (height - 1) / 2;
      if (!(px >= margin && py >= margin && px <= width - 1 - margin && py <= height - 1 - margin)) continue;
      const r = reference.data[y * reference.width + x]!;
      const m = sampleCubic(moving, px, py);
      count++;
      sr += r;
      sm += m;
      srr += r * r;
      smm += m * m;
      srm += r * m;
      const residual = r - now.gain * m - now.offset;
      const size = Math.abs(residual);
      absolute += size;
      const weight = size <= spread ? 1 : spread / size;
      const mx = now.gain * sampleLinear(slopes.x, width, height, px, py);
      const my = now.gain * sampleLinear(slopes.y, width, height, px, py);
      j[0] = (mx * qx + my * qy) / corner;
      j[1] = (my * qx - mx * qy) / corner;
      j[2] = mx;
      j[3] = my;
      j[4] = m;
      j[5] = 1;
      for (let row = 0; row < UNKNOWNS; row++) {
        const wj = weight * j[row]!;
        right[row]! += wj * residual;
        for (let column = 0; column <= row; column++) normal[row * UNKNOWNS + column]! += wj * j[column]!;
      }
    }
  }
  const vr = srr - (sr * sr) / count;
  const vm = smm - (sm * sm) / count;
  const correlation = vr > 0 && vm > 0 ? (srm - (sr * sm) / count) / Math.sqrt(vr * vm) : 0;
  // Huber's constant 1.345 on a scale from the mean absolute residual (0.7979 sigma for a normal one).
  return { normal, right, count, spread: (1.345 * absolute) / count / 0.7979, correlation };
}

/**
 * Root mean square of the motion that an alignment leaves, from the shift of each of 8 x 8 blocks.
 *
 * Blocks without structure in both directions are left out; each counts by its structure.
 *
 * @returns px; 0 where no block has structure
 */
export function remainingMotion(reference: FloatImage, moving: FloatImage, now: Alignment): number {
  const slopes = gradients(moving);
  const { a, b, x: tx, y: ty } = now.terms;
  const blocks = 8;
  const step = Math.max(1, Math.round(Math.sqrt((reference.width * reference.height) / SAMPLES)));
  const sums = new Float64Array(blocks * blocks * 5);
  for (let y = 2; y < reference.height - 2; y += step) {
    const qy = y - (reference.height - 1) / 2;
    for (let x = 2; x < reference.width - 2; x += step) {
      const qx = x - (reference.width - 1) / 2;
      const px = a * qx - b * qy + tx + (moving.width - 1) / 2;
      const py = b * qx + a * qy + ty + (moving.height - 1) / 2;
      if (!(px >= 2 && py >= 2 && px <= moving.width - 3 && py <= moving.height - 3)) continue;
      const residual =
        reference.data[y * reference.width + x]! - now.gain * sampleCubic(moving, px, py) - now.offset;
      const mx = now.gain * sampleLinear(slopes.x, moving.width, moving.height, px, py);
      const my = now.gain * sampleLinear(slopes.y, moving.width, moving.height, px, py);
      const block =
        Math.floor((y * blocks) / reference.height) * blocks + Math.floor((x * blocks) / reference.width);
      const at = block * 5;
      sums[at]! += mx * mx;
      sums[at + 1]! += mx * my;
      sums[at + 2]! += my * my;
      sums[at + 3]! += mx * residual;
      sums[at + 4]! += my * residual;
    }
  }
  let all = 0;
  for (let at = 0; at < sums.length; at += 5) all += sums[at]! + sums[at + 2]!;
  let weights = 0;
  let squares = 0;
  for (let at = 0; at < sums.length; at += 5) {
    const [xx, xy, yy, xr, yr] = [sums[at]!, sums[at + 1]!, sums[at + 2]!, sums[at + 3]!, sums[at + 4]!];
    const trace = xx + yy;
    const determinant = xx * yy - xy * xy;
    if (!(trace > (0.2 * all) / blocks ** 2 && determinant > 0.01 * trace * trace)) continue;
    const dx = (yy * xr - xy * yr) / determinant;
    const dy = (xx * yr - xy * xr) / determinant;
    weights += trace;
    squares += trace * (dx * dx + dy * dy);
  }
  return weights > 0 ? Math.sqrt(squares / weights) : 0;
}

interface Gradients {
  readonly x: Float32Array;
  readonly y: Float32Array;
}

function gradients(image: FloatImage): Gradients {
  const { width, height, data } = image;
  const x = new Float32Array(data.length);
  const y = new Float32Array(data.length);
  for (let row = 1; row < height - 1; row++) {
    for (let at = row * width + 1; at < (row + 1) * width - 1; at++) {
      x[at] = (data[at + 1]! - data[at - 1]!) / 2;
      y[at] = (data[at + width]! - data[at - width]!) / 2;
    }
  }
  return { x, y };
}
