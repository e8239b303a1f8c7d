/** Where the subject most likely is, from the focus map of a survey. */
import { checkImage, type Rgb8Image } from '../image.ts';
import type { FrameSurvey } from './survey-frame.ts';

/** Chroma so far from the frame's usual counts as another colour altogether (our choice, no source). */
const OTHER_COLOUR = 0.2;
/** How much more a tile of another colour counts than one of the usual. */
const COLOUR_WEIGHT = 3;

/**
 * Guesses the point of focus: the middle of the sharpest coherent region, with a preference for the frame's centre.
 *
 * A tile counts by its fine detail against its gradient energy (how fine its structure is, whatever its contrast),
 * so that a contrasty but soft background does not win. The map is smoothed over about a twentieth of the frame, and
 * the tile returned is the strongest one within the winning region. A frame without any detail gives its centre. Where
 * colour is known, tiles count more the farther their hue lies from the frame's usual one: a flower among its leaves.
 *
 * @param survey of the frame
 * @param colour the same frame in colour, as small as one likes (a thumbnail of 160 px serves)
 * @returns fractions of width and height from the top left [0..1]
 * @source common practice, no source (sharpest region, centre-weighted)
 */
export function guessPoint(
  survey: FrameSurvey,
  colour: Rgb8Image | null = null,
): { readonly x: number; readonly y: number } {
  const { columns, rows } = survey;
  const sharp = finenessOf(survey);
  const stands = colour === null ? null : colourOf(survey, colour);
  const fineness =
    stands === null ? sharp : sharp.map((value, i) => value * (1 + COLOUR_WEIGHT * stands[i]!));
  const radius = Math.max(1, Math.round(Math.max(columns, rows) / 40));
  const region = boxMean(boxMean(fineness, columns, rows, radius), columns, rows, radius);

  let best = -1;
  let bestAt = { column: (columns - 1) / 2, row: (rows - 1) / 2 };
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const dx = (column + 0.5) / columns - 0.5;
      const dy = (row + 0.5) / rows - 0.5;
      const value = region[row * columns + column]! * Math.exp(-(dx * dx + dy * dy) / (2 * 0.3 ** 2));
      if (value > best && value > 1e-6) {
        best = value;
        bestAt = { column, row };
      }
    }
  }
  if (best < 0) return { x: 0.5, y: 0.5 };
  let strongest = -1;
  let at = bestAt;
  for (let dy = -radius; dy <= radius; dy++) {
    for (let dx = -radius; dx <= radius; dx++) {
      const column = bestAt.column + dx;
      const row = bestAt.row + dy;
      if (column < 0 || row < 0 || column >= columns || row >= rows) continue;
      const value = fineness[row * columns + column]!;
      if (value > strongest) {
        strongest = value;
        at = { column, row };
      }
    }
  }
  return {
    x: Math.min(1, ((at.column + 0.5) * survey.tilePx) / survey.width),
    y: Math.min(1, ((at.row + 0.5) * survey.tilePx) / survey.height),
  };
}

/** How far each tile's hue lies from the frame's usual one [0..1]. */
function colourOf({ columns, rows, tilePx, width, height }: FrameSurvey, colour: Rgb8Image): Float32Array {
  checkImage('colour', colour, 3);
  const chromas = Array.from({ length: columns * rows }, (_, tile): readonly [number, number] => {
    const x = (((tile % columns) + 0.5) * tilePx) / width;
    const y = ((Math.floor(tile / columns) + 0.5) * tilePx) / height;
    const column = Math.min(colour.width - 1, Math.floor(x * colour.width));
    const row = Math.min(colour.height - 1, Math.floor(y * colour.height));
    const [r = 0, g = 0, b = 0] = colour.data.subarray((row * colour.width + column) * 3);
    // The rest keeps noise in the shadows from looking colourful.
    const light = r + g + b + 60;
    return [(r - g) / light, ((r + g) / 2 - b) / light];
  });
  const middle = ([0, 1] as const).map((axis) => {
    const sorted = Float64Array.from(chromas, (chroma) => chroma[axis]).sort();
    return sorted[sorted.length >> 1]!;
  });
  return Float32Array.from(chromas, ([u, v]) =>
    Math.min(1, Math.hypot(u - middle[0]!, v - middle[1]!) / OTHER_COLOUR),
  );
}

/**
 * How sharp each tile looks: fine detail against gradient energy, whatever the contrast; burnt tiles count less.
 *
 * @returns one value a tile, row by row, >= 0, comparable within one frame only
 */
export function finenessOf({
  detail,
  gradientXX,
  gradientYY,
  topShare,
  noiseSigma,
}: FrameSurvey): Float32Array {
  const noise = noiseSigma ** 2 + 1;
  return detail.map((d, i) => {
    const gradient = gradientXX[i]! + gradientYY[i]! + noise;
    // Square root: contrast tells, but a tile twice as contrasty is not twice as much the subject.
    return Math.sqrt(d) * Math.min(4, d / gradient) * (1 - topShare[i]!);
  });
}

/** Mean over a square of 2 radius + 1 tiles a side, cut off at the borders. */
export function boxMean(values: Float32Array, columns: number, rows: number, radius: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      let count = 0;
      for (let y = Math.max(0, row - radius); y <= Math.min(rows - 1, row + radius); y++) {
        for (let x = Math.max(0, column - radius); x <= Math.min(columns - 1, column + radius); x++) {
          sum += values[y * columns + x]!;
          count++;
        }
      }
      out[row * columns + column] = sum / count;
    }
  }
  return out;
}
