/** Clipped highlights: where one or two channels have run out, the others and the surroundings say what they were. */
import { requireInRange } from '@tepal/science';
import { planesOf, type LinearPicture } from './linear-picture.ts';

/** Side of the cells in which the colour of the surroundings is gathered [px]. */
const CELL = 8;

/** Above this share of its clipping level a channel counts as clipped: the demosaicing mixes clipped neighbours in. */
const FROM = 0.985;

export interface ReconstructedHighlights {
  /** Share of pixels in which one or two channels were rebuilt. */
  readonly rebuilt: number;
  /** Share in which all three were clipped: their brightness is lost. */
  readonly lost: number;
}

/**
 * Rebuilds clipped channels in place.
 *
 * The ratio of each channel to the mean of the three is gathered from unclipped bright pixels in cells of 8 px and
 * spread into the cells that have none (pull and push through a pyramid). A clipped channel then becomes what the
 * unclipped ones and that ratio say, but never less than its clipping level. Where all are clipped the levels are
 * brought to grey at the brightest: such a place has no hue to keep. Between, over the last tenth before clipping of
 * the last channel, the two go over into one another.
 *
 * So a petal that is one colour with shading keeps its hue when one channel clips. It cannot know texture that no
 * channel holds, and at a border between two colours the ratio is a mixture of both.
 *
 * @param picture balanced camera channels: grey has equal amounts, changed in place
 * @param clipped the level at which each channel clips, after balancing
 */
export function reconstructHighlights(
  picture: LinearPicture,
  clipped: readonly [number, number, number],
): ReconstructedHighlights {
  clipped.forEach((level, i) => requireInRange(`clipped[${i}]`, level, { min: 0, minExclusive: true }));
  const { width, height } = picture;
  const planes = planesOf(picture);
  const limits = clipped.map((level) => level * FROM) as [number, number, number];
  const [r, g, b] = planes;
  const pixels = width * height;
  let any = false;
  for (let i = 0; i < pixels && !any; i += 1) {
    any = r[i]! >= limits[0] || g[i]! >= limits[1] || b[i]! >= limits[2];
  }
  if (!any) return { rebuilt: 0, lost: 0 };

  const ratios = gatherRatios(picture, limits);
  const white = Math.max(...clipped);
  const values = [0, 0, 0];
  const ratio = [1, 1, 1];
  let rebuilt = 0;
  let lost = 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const i = y * width + x;
      for (let c = 0; c < 3; c += 1) values[c] = planes[c]![i]!;
      const over = values.map((value, c) => value >= limits[c]!);
      const count = Number(over[0]) + Number(over[1]) + Number(over[2]);
      if (count === 0) continue;
      if (count === 3) {
        lost += 1;
        for (let c = 0; c < 3; c += 1) planes[c]![i] = white;
        continue;
      }
      rebuilt += 1;
      ratioAt(ratios, x, y, ratio);
      // The level of the pixel from its unclipped channels, the brighter counting more.
      let sum = 0;
      let weight = 0;
      for (let c = 0; c < 3; c += 1) {
        if (over[c]) continue;
        sum += values[c]!;
        weight += ratio[c]!;
      }
      const level = weight > 0 ? sum / weight : white;
      // How near the last unclipped channel is to clipping: there the colour is on its way to white.
      let nearest = 0;
      for (let c = 0; c < 3; c += 1) {
        if (!over[c]) nearest = Math.max(nearest, values[c]! / clipped[c]!);
      }
      const towardsWhite = count === 2 ? smooth((nearest - 0.9) / (FROM - 0.9)) : 0;
      for (let c = 0; c < 3; c += 1) {
        const kept = over[c] ? Math.max(values[c]!, level * ratio[c]!) : values[c]!;
        planes[c]![i] = kept + (white - kept) * towardsWhite;
      }
    }
  }
  return { rebuilt: rebuilt / pixels, lost: lost / pixels };
}

const smooth = (t: number) => {
  const u = Math.min(1, Math.max(0, t));
  return u * u * (3 - 2 * u);
};

interface Ratios {
  readonly columns: number;
  readonly rows: number;
  /** Ratio of each channel to the mean of three, three a cell. */
  readonly values: Float32Array;
}

/** Weighted sums in cells, then spread into empty ones. */
function gatherRatios(picture: LinearPicture, limits: readonly number[]): Ratios {
  const { width, height, red, green, blue } = picture;
  const columns = Math.ceil(width / CELL);
  const rows = Math.ceil(height / CELL);
  const sums = new Float32Array(columns * rows * 4);
  const least = 0.15 * Math.min(...limits);
  for (let y = 0; y < height; y += 1) {
    const row = Math.floor(y / CELL) * columns;
    for (let x = 0; x < width; x += 1) {
      const i = y * width + x;
      const r = red[i]!;
      const g = green[i]!;
      const b = blue[i]!;
      if (r >= limits[0]! || g >= limits[1]! || b >= limits[2]!) continue;
      const mean = (r + g + b) / 3;
      if (mean < least) continue;
      // Brighter is nearer to the place that clips, and less noisy.
      const weight = mean * mean;
      const at = 4 * (row + Math.floor(x / CELL));
      sums[at] = sums[at]! + (weight * r) / mean;
      sums[at + 1] = sums[at + 1]! + (weight * g) / mean;
      sums[at + 2] = sums[at + 2]! + (weight * b) / mean;
      sums[at + 3] = sums[at + 3]! + weight;
    }
  }
  return { columns, rows, values: pullPush(sums, columns, rows) };
}

/** Sums with weights to values everywhere: a cell without weight takes what the coarser level says. */
function pullPush(sums: Float32Array, columns: number, rows: number): Float32Array {
  const out = new Float32Array(columns * rows * 3);
  let coarse: Float32Array | null = null;
  const halfColumns = Math.ceil(columns / 2);
  const halfRows = Math.ceil(rows / 2);
  if (columns > 1 || rows > 1) {
    const half = new Float32Array(halfColumns * halfRows * 4);
    for (let y = 0; y < rows; y += 1) {
      for (let x = 0; x < columns; x += 1) {
        const from = 4 * (y * columns + x);
        const to = 4 * ((y >> 1) * halfColumns + (x >> 1));
        for (let c = 0; c < 4; c += 1) half[to + c] = half[to + c]! + sums[from + c]!;
      }
    }
    coarse = pullPush(half, halfColumns, halfRows);
  }
  for (let y = 0; y < rows; y += 1) {
    for (let x = 0; x < columns; x += 1) {
      const cell = y * columns + x;
      const weight = sums[4 * cell + 3]!;
      for (let c = 0; c < 3; c += 1) {
        const spread =
          coarse === null ? 1 : bilinear(coarse, halfColumns, halfRows, (x - 0.5) / 2, (y - 0.5) / 2, c);
        out[3 * cell + c] = weight > 0 ? sums[4 * cell + c]! / weight : spread;
      }
    }
  }
  return out;
}

function bilinear(
  values: Float32Array,
  columns: number,
  rows: number,
  x: number,
  y: number,
  c: number,
): number {
  const cx = Math.min(columns - 1, Math.max(0, x));
  const cy = Math.min(rows - 1, Math.max(0, y));
  const x0 = Math.floor(cx);
  const y0 = Math.floor(cy);
  const x1 = Math.min(columns - 1, x0 + 1);
  const y1 = Math.min(rows - 1, y0 + 1);
  const at = (u: number, v: number) => values[3 * (v * columns + u) + c]!;
  const top = at(x0, y0) + (at(x1, y0) - at(x0, y0)) * (cx - x0);
  const bottom = at(x0, y1) + (at(x1, y1) - at(x0, y1)) * (cx - x0);
  return top + (bottom - top) * (cy - y0);
}

function ratioAt({ columns, rows, values }: Ratios, x: number, y: number, out: number[]): void {
  for (let c = 0; c < 3; c += 1) {
    out[c] = bilinear(values, columns, rows, (x + 0.5) / CELL - 0.5, (y + 0.5) / CELL - 0.5, c);
  }
}
