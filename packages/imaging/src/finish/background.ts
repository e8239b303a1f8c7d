/** The background found by its blur, and quietened. */
import { requireShare, requireInRange } from '@tepal/science';
import { planesOf, type LinearPicture } from '../develop/linear-picture.ts';
import { boxMean, enlargedRow, shrink, type Plane } from './plane/box-blur.ts';
import { guidedFilter } from './plane/guided-filter.ts';
import { luminance, stopsOf } from './plane/luminance.ts';
import { SMALL_SIDE_PX } from './shade.ts';

/** A round part of the picture: middle as fractions of width and height, radius as a fraction of the width. */
export interface Round {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

export interface QuietenBackground {
  /** How far bright and dark patches are brought to the background's middle tone, 0 to 1. */
  readonly calm: number;
  /** How much darker [stops], 0 to 2. */
  readonly darkerStops?: number;
  /** How much of its colour is taken away, 0 to 1. */
  readonly paler?: number;
  /** Parts that are subject whatever their sharpness, and parts that are not. */
  readonly subject?: readonly Round[];
  readonly notSubject?: readonly Round[];
}

export interface BackgroundMask {
  /** 0 subject to 1 background, small. */
  readonly mask: Plane;
  /** By how much it is smaller than the picture. */
  readonly factor: number;
}

/**
 * Where the background is: where nothing fine stands out.
 *
 * Detail is the root mean square of the second differences of the picture's tones over a window, against the tenth
 * percentile (noise and blur) and the 95th (what is sharpest); the border follows the edges of the picture. It knows
 * nothing of plants: a sharp blade behind the flower is subject to it, and a smooth petal away from its edges is
 * background unless it lies between sharp parts. So parts can be given by hand.
 */
export function findBackground(
  picture: LinearPicture,
  parts: { readonly subject?: readonly Round[]; readonly notSubject?: readonly Round[] } = {},
): BackgroundMask {
  const factor = Math.ceil(Math.max(picture.width, picture.height) / SMALL_SIDE_PX);
  const full = stopsOf(luminance(picture));
  const { width, height, data } = full;
  const squares = new Float32Array(data.length);
  for (let y = 1; y < height - 1; y += 1) {
    for (let x = 1; x < width - 1; x += 1) {
      const i = y * width + x;
      const d = 4 * data[i]! - data[i - 1]! - data[i + 1]! - data[i - width]! - data[i + width]!;
      squares[i] = d * d;
    }
  }
  const energy = shrink({ width, height, data: squares }, factor);
  const small = shrink(full, factor);
  const radius = Math.max(2, Math.round(0.012 * Math.max(small.width, small.height)));
  const spread = boxMean(energy, radius);
  const sorted = Float32Array.from(spread.data).sort();
  const at = (share: number) => Math.sqrt(sorted[Math.floor(share * (sorted.length - 1))]!);
  const low = at(0.1);
  const high = Math.max(at(0.95), low * 1.5, 1e-6);
  const begin = low + 0.08 * (high - low);
  const end = low + 0.3 * (high - low);
  const subject = spread.data.map((value) => {
    const t = Math.min(1, Math.max(0, (Math.sqrt(value) - begin) / (end - begin)));
    return t * t * (3 - 2 * t);
  });
  // Holes between sharp parts close, then the border is laid along the picture's own edges.
  const closed = boxMean({ ...spread, data: subject }, 3 * radius);
  const filled = {
    ...closed,
    data: closed.data.map((value, i) => Math.min(1, Math.max(subject[i]!, 2.2 * value - 0.6))),
  };
  const refined = guidedFilter(small, filled, { radiusPx: 2 * radius, epsilon: 0.02 });
  const mask = refined.data.map((value) => 1 - Math.min(1, Math.max(0, value)));
  paint(mask, small, parts.subject ?? [], 0);
  paint(mask, small, parts.notSubject ?? [], 1);
  return { mask: { ...small, data: mask }, factor };
}

/** Rounds painted with a soft border, a fifth of their radius. */
function paint(mask: Float32Array, size: Plane, rounds: readonly Round[], value: number): void {
  for (const { x, y, radius } of rounds) {
    requireShare('x', x);
    requireShare('y', y);
    const r = requireInRange('radius', radius, { min: 0, minExclusive: true, max: 1 }) * size.width;
    for (let v = 0; v < size.height; v += 1) {
      for (let u = 0; u < size.width; u += 1) {
        const d = Math.hypot(u + 0.5 - x * size.width, v + 0.5 - y * size.height) / r;
        if (d >= 1.2) continue;
        const share = d <= 1 ? 1 : (1.2 - d) / 0.2;
        const i = v * size.width + u;
        mask[i] = mask[i]! + (value - mask[i]!) * share;
      }
    }
  }
}

/**
 * Quietens the background, in place: its tones are brought towards their middle, made darker and paler. Nothing is
 * blurred, moved or removed; the subject stays as it is.
 *
 * @returns share of the picture that was taken for background
 */
export function quietenBackground(picture: LinearPicture, wish: QuietenBackground): number {
  const calm = requireShare('calm', wish.calm);
  const darker = requireInRange('darkerStops', wish.darkerStops ?? 0, { unit: 'stops', min: 0, max: 2 });
  const paler = requireShare('paler', wish.paler ?? 0);
  const { mask, factor } = findBackground(picture, wish);
  const share = mask.data.reduce((sum, value) => sum + value, 0) / mask.data.length;
  const light = luminance(picture);
  const tones = stopsOf(light);
  const smallTones = shrink(tones, factor);
  const middle = weightedMedian(smallTones.data, mask.data);
  const patches = boxMean(smallTones, 0.01 * Math.max(mask.width, mask.height));
  const { width, height } = picture;
  const [red, green, blue] = planesOf(picture);
  const masks = new Float32Array(width);
  const bases = new Float32Array(width);
  for (let y = 0; y < height; y += 1) {
    enlargedRow(mask, factor, y, masks);
    enlargedRow(patches, factor, y, bases);
    for (let x = 0; x < width; x += 1) {
      const m = masks[x]!;
      if (m < 0.004) continue;
      const i = y * width + x;
      const gain = 2 ** (m * (calm * (middle - bases[x]!) - darker));
      const grey = light.data[i]! * gain;
      const keep = 1 - m * paler;
      red[i] = grey + (red[i]! * gain - grey) * keep;
      green[i] = grey + (green[i]! * gain - grey) * keep;
      blue[i] = grey + (blue[i]! * gain - grey) * keep;
    }
  }
  return share;
}

function weightedMedian(values: Float32Array, weights: Float32Array): number {
  const bins = new Float64Array(1024);
  let total = 0;
  for (let i = 0; i < values.length; i += 1) {
    const bin = Math.min(1023, Math.max(0, Math.floor((values[i]! + 12) * 64)));
    bins[bin] = bins[bin]! + weights[i]!;
    total += weights[i]!;
  }
  let sum = 0;
  for (let bin = 0; bin < bins.length; bin += 1) {
    sum += bins[bin]!;
    if (sum >= total / 2) return (bin + 0.5) / 64 - 12;
  }
  return 0;
}
