/** Noise taken away as the sensor's model says, and no more. */
import { requireInRange } from '@tepal/science';
import { planesOf, type LinearPicture } from '../develop/linear-picture.ts';
import { requireNoiseModel, stabilise, unstabilise, type NoiseModel } from './noise-model.ts';

export interface QuietenNoise {
  /** How much of the grain is taken away, 0 to 1. */
  readonly grain: number;
  /** How much of the specks of colour, 0 to 1. */
  readonly colour: number;
}

const SCALES = 4;

/** Rows worked on at once, and the rows round them that the coarsest scale looks at. */
const STRIP = 256;
const MARGIN = 2 ** (SCALES + 1);

/**
 * Share of white noise of deviation 1 that is left in each scale of the à trous transform with the B3 spline.
 *
 * @source Starck, Murtagh and Bijaoui 1998, Image Processing and Data Analysis, table 2.1 (from memory; checked in a test)
 */
export const SCALE_DEVIATIONS = [0.889, 0.2, 0.086, 0.041] as const;

/**
 * Takes noise away, in place.
 *
 * The planes are stabilised (noise of deviation 1 at every tone), turned into one plane of grey and two of colour, and
 * split into four scales. In each scale a place is shrunk by the share of noise in its local energy: what stands out
 * of the noise stays, what does not goes. Nothing is guessed beyond that: no texture is invented.
 *
 * @param model of each plane in units of white
 * @throws DomainError if the model is none, or both of its terms are 0 while something is asked for
 */
export function quietenNoise(picture: LinearPicture, model: NoiseModel, wish: QuietenNoise): void {
  const grain = requireInRange('grain', wish.grain, { min: 0, max: 1 });
  const colour = requireInRange('colour', wish.colour, { min: 0, max: 1 });
  requireNoiseModel(model);
  if ((grain === 0 && colour === 0) || (model.perLight === 0 && model.floor === 0)) return;
  const { width, height } = picture;
  const planes = planesOf(picture);
  // Rows above a strip are needed as they were: the strip before it is written back one strip late.
  let waiting: { top: number; rows: Float32Array[] } | null = null;
  for (let top = 0; top < height; top += STRIP) {
    const bottom = Math.min(height, top + STRIP);
    const first = Math.max(0, top - MARGIN);
    const last = Math.min(height, bottom + MARGIN);
    const cleaned = cleanRows(planes, width, first, last, model, { grain, colour });
    if (waiting !== null) putBack(planes, width, waiting);
    const from = (top - first) * width;
    const rows = cleaned.map((plane) => plane.slice(from, from + (bottom - top) * width));
    waiting = { top, rows };
  }
  if (waiting !== null) putBack(planes, width, waiting);
}

function putBack(
  planes: readonly Float32Array[],
  width: number,
  { top, rows }: { readonly top: number; readonly rows: readonly Float32Array[] },
): void {
  rows.forEach((row, c) => planes[c]!.set(row, top * width));
}

function cleanRows(
  planes: readonly [Float32Array, Float32Array, Float32Array],
  width: number,
  first: number,
  last: number,
  model: NoiseModel,
  wish: QuietenNoise,
): Float32Array[] {
  const height = last - first;
  const size = width * height;
  const [grey, warm, green] = [new Float32Array(size), new Float32Array(size), new Float32Array(size)];
  const [red, mid, blue] = planes;
  const offset = first * width;
  const k = [Math.sqrt(1 / 3), Math.sqrt(1 / 2), Math.sqrt(1 / 6)] as const;
  for (let i = 0; i < size; i += 1) {
    const r = stabilise(model, red[offset + i]!);
    const g = stabilise(model, mid[offset + i]!);
    const b = stabilise(model, blue[offset + i]!);
    // Turned without stretching: the noise of each stays 1.
    grey[i] = k[0] * (r + g + b);
    warm[i] = k[1] * (r - b);
    green[i] = k[2] * (2 * g - r - b);
  }
  shrinkScales(grey, width, height, wish.grain, 1);
  shrinkScales(warm, width, height, wish.colour, 2.2);
  shrinkScales(green, width, height, wish.colour, 2.2);
  for (let i = 0; i < size; i += 1) {
    const n = grey[i]!;
    const w = warm[i]!;
    const g = green[i]!;
    const third = k[0] * n;
    const half = k[1] * w;
    const sixth = k[2] * g;
    grey[i] = unstabilise(model, third + half - sixth);
    warm[i] = unstabilise(model, third + 2 * sixth);
    green[i] = unstabilise(model, third - half - sixth);
  }
  return [grey, warm, green];
}

const TAPS = [1 / 16, 1 / 4, 3 / 8, 1 / 4, 1 / 16] as const;

/** Splits into scales, shrinks each by its share of noise, and adds up again; in place. */
function shrinkScales(
  data: Float32Array,
  width: number,
  height: number,
  strength: number,
  hardness: number,
): void {
  if (strength === 0) return;
  let smooth: Float32Array = data.slice();
  data.fill(0);
  for (let scale = 0; scale < SCALES; scale += 1) {
    const next = spline(smooth, width, height, 2 ** scale);
    const noise = (SCALE_DEVIATIONS[scale]! * Math.sqrt(hardness)) ** 2;
    const detail = smooth;
    for (let i = 0; i < detail.length; i += 1) detail[i] = detail[i]! - next[i]!;
    // Energy over five taps each way at the scale's own distance.
    const energy = spline(
      detail.map((value) => value * value),
      width,
      height,
      2 ** scale,
    );
    for (let i = 0; i < detail.length; i += 1) {
      const e = energy[i]!;
      const kept = e > noise ? (e - noise) / e : 0;
      data[i] = data[i]! + detail[i]! * (1 - strength + strength * kept);
    }
    smooth = next;
  }
  for (let i = 0; i < data.length; i += 1) data[i] = data[i]! + smooth[i]!;
}

/** The B3 spline with its taps `step` apart, borders mirrored. */
export function spline(plane: Float32Array, width: number, height: number, step: number): Float32Array {
  const across = new Float32Array(plane.length);
  const mirror = (i: number, n: number) => {
    const j = i < 0 ? -i : i >= n ? 2 * n - 2 - i : i;
    return Math.min(n - 1, Math.max(0, j));
  };
  const [a, b, c] = TAPS;
  for (let y = 0; y < height; y += 1) {
    const row = y * width;
    for (let x = 0; x < width; x += 1) {
      const inner = x >= 2 * step && x + 2 * step < width;
      const x0 = row + (inner ? x - 2 * step : mirror(x - 2 * step, width));
      const x1 = row + (inner ? x - step : mirror(x - step, width));
      const x3 = row + (inner ? x + step : mirror(x + step, width));
      const x4 = row + (inner ? x + 2 * step : mirror(x + 2 * step, width));
      across[row + x] = a * (plane[x0]! + plane[x4]!) + b * (plane[x1]! + plane[x3]!) + c * plane[row + x]!;
    }
  }
  const out = new Float32Array(plane.length);
  for (let y = 0; y < height; y += 1) {
    const y0 = mirror(y - 2 * step, height) * width;
    const y1 = mirror(y - step, height) * width;
    const y2 = y * width;
    const y3 = mirror(y + step, height) * width;
    const y4 = mirror(y + 2 * step, height) * width;
    for (let x = 0; x < width; x += 1) {
      out[y2 + x] =
        a * (across[y0 + x]! + across[y4 + x]!) +
        b * (across[y1 + x]! + across[y3 + x]!) +
        c * across[y2 + x]!;
    }
  }
  return out;
}
