/** A sensor's samples behind a 2 by 2 pattern of colours: luma for measuring, and what is burnt in each colour. */
import type { Luma8, PixelSize } from './pixels.ts';

export interface Mosaic extends PixelSize {
  /** Samples as the sensor gave them; the picture begins at `start`, its rows lie `stride` apart. */
  readonly data: Uint16Array;
  readonly start: number;
  readonly stride: number;
  /** 0 red, 1 green, 2 blue: of even rows, then of odd rows. */
  readonly colours: readonly [number, number, number, number];
  readonly blackLevel: number;
  readonly whiteLevel: number;
  /** Factors of red, green and blue that make grey grey, as the camera set them. */
  readonly balance: readonly [number, number, number];
}

/**
 * The pattern of colours from the decoder's code for it: two bits a place, eight rows of two.
 *
 * @returns null where the sensor has no pattern that repeats every two rows and columns in three colours
 */
export function bayerOf(filters: unknown, letters: unknown): Mosaic['colours'] | null {
  if (typeof filters !== 'number' || typeof letters !== 'string') return null;
  const code = filters >>> 0;
  // Below 1000 stand codes for other patterns, and for none.
  if (code < 1000) return null;
  const at = (row: number, column: number) => {
    const letter = letters[(code >>> ((((row << 1) & 14) | (column & 1)) << 1)) & 3];
    return letter === undefined ? -1 : 'RGB'.indexOf(letter);
  };
  const colours = [at(0, 0), at(0, 1), at(1, 0), at(1, 1)] as const;
  for (let row = 2; row < 8; row += 1) {
    for (let column = 0; column < 2; column += 1) {
      if (at(row, column) !== colours[(row & 1) * 2 + column]) return null;
    }
  }
  return [...colours].sort().join('') === '0112' ? colours : null;
}

/** Five taps: whole at rest, nothing at the pattern's own frequency, and no second moment, so no blur of its own. */
const [FAR, NEAR, MIDDLE] = [-1 / 16, 4 / 16, 10 / 16] as const;

const CODES = 4096;

/**
 * Encoded luma of a mosaic, at its full size, without finding the colours between.
 *
 *   Y = h * (h * s)     s samples less black, over white less black, times the balance; h = (-1 4 10 4 -1) / 16
 *
 * The colours of a 2 by 2 pattern ride on half the sampling frequency, where `h` is zero, so that what is left is
 * (R + 2 G + B) / 4. The second moment of `h` is zero: it adds no blur to first order; it passes 3/4 at a quarter of
 * the sampling frequency. Encoded by sRGB's curve, without brightening.
 *
 * @param out at least width x height long
 * @source Alleysson, Süsstrunk, Hérault 2005, IEEE Trans. Image Processing 14(4) (luma by a low-pass of the mosaic)
 *   [from memory]; the taps follow from the three conditions
 */
export function lumaOfMosaic(mosaic: Mosaic, out: Uint8Array): Luma8 {
  const { width, height, data, start, stride } = mosaic;
  const tables = scaledSamples(mosaic);
  const codes = encodedCodes();
  const sample = new Float32Array(width + 4);
  const rows = Array.from({ length: 5 }, () => new Float32Array(width));
  const filterRow = (y: number) => {
    const from = start + y * stride;
    const even = tables[(y & 1) * 2]!;
    const odd = tables[(y & 1) * 2 + 1]!;
    for (let x = 0; x < width; x += 2) sample[x + 2] = even[data[from + x]!]!;
    for (let x = 1; x < width; x += 2) sample[x + 2] = odd[data[from + x]!]!;
    // Mirrored about the edge pixels, which keeps the pattern.
    sample[0] = sample[4]!;
    sample[1] = sample[3]!;
    sample[width + 2] = sample[width]!;
    sample[width + 3] = sample[width - 1]!;
    const row = rows[y % 5]!;
    for (let x = 0; x < width; x += 1) {
      row[x] =
        FAR * (sample[x]! + sample[x + 4]!) +
        NEAR * (sample[x + 1]! + sample[x + 3]!) +
        MIDDLE * sample[x + 2]!;
    }
  };
  const mirrored = (y: number) => (y < 0 ? -y : y >= height ? 2 * height - 2 - y : y);
  for (let y = 0; y < Math.min(2, height); y += 1) filterRow(y);
  for (let y = 0; y < height; y += 1) {
    if (y + 2 < height) filterRow(y + 2);
    const [a, b, c, d, e] = [-2, -1, 0, 1, 2].map((step) => rows[mirrored(y + step) % 5]!) as [
      Float32Array,
      Float32Array,
      Float32Array,
      Float32Array,
      Float32Array,
    ];
    const to = y * width;
    for (let x = 0; x < width; x += 1) {
      const value = FAR * (a[x]! + e[x]!) + NEAR * (b[x]! + d[x]!) + MIDDLE * c[x]!;
      out[to + x] = codes[value <= 0 ? 0 : value >= 1 ? CODES : (value * CODES + 0.5) | 0]!;
    }
  }
  return { width, height, data: out.subarray(0, width * height) };
}

/** For each place of the pattern, what each sample stands for [0..1]; white stays white in every colour. */
function scaledSamples({ colours, blackLevel, whiteLevel, balance }: Mosaic): readonly Float32Array[] {
  const least = Math.min(...balance);
  const byColour = balance.map((factor) => {
    const scale = factor / least / (whiteLevel - blackLevel);
    return Float32Array.from({ length: 65_536 }, (_, sample) =>
      Math.min(1, Math.max(0, (sample - blackLevel) * scale)),
    );
  });
  return colours.map((colour) => byColour[colour]!);
}

/** sRGB's curve. @source IEC 61966-2-1 */
function encodedCodes(): Uint8Array {
  return Uint8Array.from({ length: CODES + 1 }, (_, i) => {
    const v = i / CODES;
    return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
  });
}

/** What the sensor caught within a disc, colour by colour. */
export interface SensorClipping {
  /** Share of the samples that are full [0..1]. */
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  /**
   * Stops between the brightest samples (999 of 1000 are darker) and a full one, of the fullest colour; 0 where that
   * is burnt.
   */
  readonly headroomStops: number;
}

/** Samples this close to full are full: sensors do not all stop at one value. */
const FULL_FROM = 0.99;
const BRIGHTEST = 0.999;

/**
 * @param centre of the disc [px of the mosaic, before it is brought upright]
 * @param radiusPx of the disc
 * @returns shares; the white level is lowered to where the samples pile up, since files often name one never reached
 */
export function clippingOfMosaic(
  mosaic: Mosaic,
  centre: { readonly x: number; readonly y: number },
  radiusPx: number,
): SensorClipping {
  const { width, height, data, start, stride, colours, blackLevel } = mosaic;
  const full = blackLevel + FULL_FROM * (fullLevel(mosaic) - blackLevel);
  const counts = [0, 0, 0];
  const fulls = [0, 0, 0];
  const histograms = [0, 1, 2].map(() => new Uint32Array(65_536));
  const [top, bottom] = [
    Math.max(0, Math.ceil(centre.y - radiusPx)),
    Math.min(height - 1, centre.y + radiusPx),
  ];
  for (let y = top; y <= bottom; y += 1) {
    const half = Math.sqrt(Math.max(0, radiusPx ** 2 - (y - centre.y) ** 2));
    const right = Math.min(width - 1, centre.x + half);
    for (let x = Math.max(0, Math.ceil(centre.x - half)); x <= right; x += 1) {
      const sample = data[start + y * stride + x]!;
      const colour = colours[(y & 1) * 2 + (x & 1)]!;
      counts[colour]! += 1;
      histograms[colour]![sample]! += 1;
      if (sample >= full) fulls[colour]! += 1;
    }
  }
  const [red, green, blue] = counts.map((count, i) => (count === 0 ? 0 : fulls[i]! / count));
  const headrooms = histograms.map((histogram, i) => {
    const brightest = Math.max(1, percentile(histogram, counts[i]!) - blackLevel);
    return Math.max(0, Math.log2((full - blackLevel) / brightest));
  });
  return { red: red!, green: green!, blue: blue!, headroomStops: Math.min(...headrooms) };
}

function percentile(histogram: Uint32Array, count: number): number {
  let seen = 0;
  for (let sample = 0; sample < histogram.length; sample += 1) {
    seen += histogram[sample]!;
    if (count > 0 && seen >= BRIGHTEST * count) return sample;
  }
  return 0;
}

/** Samples at the very top that make a pile: more than noise puts there. */
const PILE_SHARE = 2e-5;

/** Where the samples end: at the stated white level, or lower where they pile up below it. */
function fullLevel({ width, height, data, start, stride, blackLevel, whiteLevel }: Mosaic): number {
  let most = 0;
  for (let y = 0; y < height; y += 1) {
    const from = start + y * stride;
    for (let x = 0; x < width; x += 1) if (data[from + x]! > most) most = data[from + x]!;
  }
  if (most >= whiteLevel || most < blackLevel + 0.75 * (whiteLevel - blackLevel)) return whiteLevel;
  const near = blackLevel + 0.998 * (most - blackLevel);
  let piled = 0;
  for (let y = 0; y < height; y += 1) {
    const from = start + y * stride;
    for (let x = 0; x < width; x += 1) if (data[from + x]! >= near) piled += 1;
  }
  return piled > PILE_SHARE * width * height ? most : whiteLevel;
}
