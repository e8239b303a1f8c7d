/** What is burnt, how evenly the subject is lit, and how much the background pulls the eye. */
import { DomainError } from '@tepal/science';
import { checkImage, type LumaImage, type Rgb8Image } from '../image.ts';
import type { FrameSurvey } from './survey-frame.ts';

/** Share of pixels at the top code, per channel [0..1]. */
export interface Clipping {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
}

/**
 * Share of a crop's pixels at code 255, channel by channel.
 *
 * For the measure document the crop is the disc's square within 5 % of the frame's width of the point; only pixels
 * within that radius of the crop's centre count.
 *
 * @param crop encoded RGB around the point
 * @param radiusPx pixels farther than this from the crop's centre are left out; half the longer side unless given
 * @throws DomainError if the image is malformed
 */
export function clipping(crop: Rgb8Image, radiusPx = Math.hypot(crop.width, crop.height)): Clipping {
  checkImage('crop', crop, 3);
  const counts = [0, 0, 0];
  let all = 0;
  forEachWithin(crop, radiusPx, (at) => {
    all++;
    for (let channel = 0; channel < 3; channel++) {
      if (crop.data[at + channel] === 255) counts[channel]!++;
    }
  });
  const [red, green, blue] = counts.map((count) => (all === 0 ? 0 : count / all));
  return { red: red!, green: green!, blue: blue! };
}

/**
 * How evenly the subject is lit: stops between the 10th and the 90th percentile of its luminance.
 *
 * Luminance by the sRGB curve and the Rec. 709 weights, so for another encoding an approximation. Codes below about
 * 8 (5 stops under mid-grey and more) hold no reliable ratio: luminance is floored at 0.001.
 *
 * @param crop encoded RGB of the subject
 * @param radiusPx pixels farther than this from the crop's centre are left out
 * @returns stops, >= 0
 * @throws DomainError if the image is malformed
 * @source IEC 61966-2-1 (curve); ITU-R BT.709 (weights) [from memory]
 */
export function evennessStops(crop: Rgb8Image, radiusPx = Math.hypot(crop.width, crop.height)): number {
  checkImage('crop', crop, 3);
  const luminances: number[] = [];
  const { data } = crop;
  forEachWithin(crop, radiusPx, (at) => {
    const y = 0.2126 * linear[data[at]!]! + 0.7152 * linear[data[at + 1]!]! + 0.0722 * linear[data[at + 2]!]!;
    luminances.push(Math.max(y, 0.001));
  });
  const sorted = Float64Array.from(luminances).sort();
  if (sorted.length === 0)
    throw new DomainError('empty', 'at least one pixel within radiusPx', 'crop', 'none');
  return Math.log2(percentile(sorted, 0.9) / percentile(sorted, 0.1));
}

/**
 * The same from luma alone: a decode to grey leaves no more. Exact for grey; the luminance of a strong colour is off by
 * up to half a stop, alike in all frames of a series.
 *
 * @param crop encoded luma of the subject
 * @param radiusPx pixels farther than this from the crop's centre are left out
 * @returns stops, >= 0
 * @throws DomainError if the image is malformed or no pixel is within the radius
 */
export function evennessOfLuma(crop: LumaImage, radiusPx = Math.hypot(crop.width, crop.height)): number {
  checkImage('crop', crop, 1);
  const { width, height, data } = crop;
  const codes = new Uint32Array(256);
  let count = 0;
  for (let y = 0; y < height; y++) {
    const half = Math.sqrt(Math.max(0, radiusPx ** 2 - (y - (height - 1) / 2) ** 2));
    const first = Math.max(0, Math.ceil((width - 1) / 2 - half));
    const last = Math.min(width - 1, Math.floor((width - 1) / 2 + half));
    if (Math.abs(y - (height - 1) / 2) > radiusPx) continue;
    for (let x = first; x <= last; x++) codes[data[y * width + x]!]!++;
    count += Math.max(0, last - first + 1);
  }
  if (count === 0) throw new DomainError('empty', 'at least one pixel within radiusPx', 'crop', 'none');
  const luminanceAt = (share: number) => {
    let seen = 0;
    const code = codes.findIndex((some) => (seen += some) > share * count);
    return Math.max(linear[code]!, 0.001);
  };
  return Math.log2(luminanceAt(0.9) / luminanceAt(0.1));
}

/**
 * How much the background pulls the eye: the share of its gradient energy that lies in its brightest tenth.
 *
 * Background is every tile farther from the point than `subjectRadius`. 0.1 would be even; near 1 all the structure
 * is in a few bright spots.
 *
 * @param survey of the frame
 * @param point fractions of width and height [0..1]
 * @param subjectRadius share of the frame's width that belongs to the subject [0..1]; 0.2 unless given
 * @returns share [0..1], or null where there is no background or no structure in it
 */
export function clutter(
  survey: FrameSurvey,
  point: { readonly x: number; readonly y: number },
  subjectRadius = 0.2,
): number | null {
  const { columns, rows, tilePx, width, height, meanLuma, gradientXX, gradientYY } = survey;
  const tiles: { luma: number; energy: number }[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const dx = (column + 0.5) * tilePx - point.x * width;
      const dy = (row + 0.5) * tilePx - point.y * height;
      if (Math.hypot(dx, dy) <= subjectRadius * width) continue;
      const i = row * columns + column;
      tiles.push({ luma: meanLuma[i]!, energy: gradientXX[i]! + gradientYY[i]! });
    }
  }
  const total = tiles.reduce((sum, tile) => sum + tile.energy, 0);
  if (tiles.length < 10 || !(total > 0)) return null;
  tiles.sort((a, b) => b.luma - a.luma);
  const brightest = tiles.slice(0, Math.ceil(tiles.length / 10));
  return brightest.reduce((sum, tile) => sum + tile.energy, 0) / total;
}

/** Linear light of an sRGB code [0..1]. @source IEC 61966-2-1 [from memory] */
export const linear = Float64Array.from({ length: 256 }, (_, code) => {
  const v = code / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
});

function percentile(sorted: Float64Array, share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

/** Visits the first sample of every pixel of interleaved RGB within a radius of the image's centre. */
export function forEachWithin(image: Rgb8Image, radiusPx: number, visit: (at: number) => void): void {
  const { width, height } = image;
  const [cx, cy] = [(width - 1) / 2, (height - 1) / 2];
  for (let y = 0; y < height; y++) {
    const square = radiusPx ** 2 - (y - cy) ** 2;
    if (square < 0) continue;
    const half = Math.sqrt(square);
    const last = Math.min(width - 1, Math.floor(cx + half));
    for (let x = Math.max(0, Math.ceil(cx - half)); x <= last; x++) visit((y * width + x) * 3);
  }
}
