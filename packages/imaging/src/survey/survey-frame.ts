/** One look at every pixel of a frame, kept as a tile grid and a small luma image. */
import { requireInteger } from '@tepal/science';
import { checkImage, type FloatImage, type LumaImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';

/**
 * What one pass leaves of a frame. Tiles row by row, `columns` x `rows`; the last of each may be smaller.
 *
 * - `gradientXX`, `gradientXY`, `gradientYY`: mean products of the slopes by central differences [code²/px²]; their
 *   sum XX + YY is the gradient energy
 * - `detail`: mean squared Laplacian (0 1 0, 1 -4 1, 0 1 0) less its noise floor, never below 0 [code²]
 * - `topShare`: share of pixels at code 255 [0..1]; `meanLuma` [0..255]
 * - `noiseSigma`: white-noise estimate from the quietest tiles [code]; Laplacian variance of white noise is 20 s²
 * - `small`: box-reduced luma, each pixel the mean of `smallFactor`² pixels; pixel (i, j) is centred on
 *   (i + 1/2) smallFactor - 1/2 of the frame
 */
export interface FrameSurvey {
  readonly width: number;
  readonly height: number;
  readonly tilePx: number;
  readonly columns: number;
  readonly rows: number;
  readonly gradientXX: Float32Array;
  readonly gradientXY: Float32Array;
  readonly gradientYY: Float32Array;
  readonly detail: Float32Array;
  readonly topShare: Float32Array;
  readonly meanLuma: Float32Array;
  readonly noiseSigma: number;
  readonly small: FloatImage;
  readonly smallFactor: number;
}

const SUMS = 7;
const LAPLACIAN_OF_WHITE_NOISE = 20;

/**
 * Surveys a frame in one pass.
 *
 * @param kernel the loaded kernel
 * @param luma encoded 8-bit luma, at least 16 x 16 px
 * @param options.tilePx side of a tile [px], a multiple of 16, 16..128; 32 unless given
 * @param options.smallLongSidePx long side that the small luma is reduced to at most [px]; 512 unless given
 * @throws DomainError if the image or an option is out of range
 * @source OI 5.2 (Laplacian and gradient measures, noise floor); Pech-Pacheco et al. 2000 [from memory]
 */
export function surveyFrame(
  kernel: Kernel,
  luma: LumaImage,
  options: { readonly tilePx?: number; readonly smallLongSidePx?: number } = {},
): FrameSurvey {
  checkImage('luma', luma, 1, 16);
  const { tilePx = 32, smallLongSidePx = 512 } = options;
  requireInteger('tilePx / 16', tilePx / 16, { min: 1, max: 8 });
  requireInteger('smallLongSidePx', smallLongSidePx, { min: 16, unit: 'px' });
  const { width, height, data } = luma;
  const columns = Math.ceil(width / tilePx);
  const rows = Math.ceil(height / tilePx);
  // 255 x 257 rows fit the u16 column sums.
  const smallFactor = Math.min(256, Math.ceil(Math.max(width, height) / smallLongSidePx));
  const smallWidth = Math.floor(width / smallFactor);
  const smallHeight = Math.floor(height / smallFactor);
  const small = new Float32Array(smallWidth * smallHeight);
  const sums = new Int32Array(columns * rows * SUMS);

  const mark = kernel.mark();
  const stride = width + 2;
  const strip = kernel.allocate(stride * (tilePx + 2));
  const tilesAt = kernel.allocate(columns * SUMS * 4);
  const columnsAt = kernel.allocate(width * 2 + 32);
  const pixels = kernel.bytes(strip, stride * (tilePx + 2));
  const tiles = kernel.int32(tilesAt, columns * SUMS);
  const columnSums = kernel.uint16(columnsAt, width);

  for (let row = 0; row < rows; row++) {
    const top = row * tilePx;
    const bottom = Math.min(top + tilePx, height);
    for (let y = top - 1; y <= bottom; y++) {
      const from = Math.min(Math.max(y, 0), height - 1) * width;
      const to = (y - top + 1) * stride;
      pixels[to] = data[from]!;
      pixels.set(data.subarray(from, from + width), to + 1);
      pixels[to + width + 1] = data[from + width - 1]!;
    }
    tiles.fill(0);
    for (let y = top; y < bottom;) {
      const smallRow = Math.floor(y / smallFactor);
      const end = Math.min(bottom, (smallRow + 1) * smallFactor);
      const at = strip + (y - top + 1) * stride + 1;
      kernel.run.surveyStrip(at, stride, width, end - y, tilePx, tilesAt, columnsAt);
      if (end === (smallRow + 1) * smallFactor) {
        if (smallRow < smallHeight) {
          foldColumns(columnSums, smallFactor, small, smallRow * smallWidth, smallWidth);
        }
        columnSums.fill(0);
      }
      y = end;
    }
    sums.set(tiles, row * columns * SUMS);
  }
  kernel.release(mark);
  return {
    width,
    height,
    tilePx,
    columns,
    rows,
    ...tileMeans(sums),
    small: { width: smallWidth, height: smallHeight, data: small },
    smallFactor,
  };
}

function foldColumns(sums: Uint16Array, factor: number, out: Float32Array, at: number, count: number): void {
  const scale = 1 / (factor * factor);
  for (let i = 0, x = 0; i < count; i++) {
    let sum = 0;
    for (const end = x + factor; x < end; x++) sum += sums[x]!;
    out[at + i] = sum * scale;
  }
}

function tileMeans(sums: Int32Array) {
  const count = sums.length / SUMS;
  const means = (offset: number, scale: number) =>
    Float32Array.from({ length: count }, (_, i) => (sums[i * SUMS + offset]! * scale) / sums[i * SUMS]!);
  const laplacian = means(5, 1);
  const topShare = means(6, 1);
  const meanLuma = means(1, 1);
  // The quietest twentieth of the tiles that are neither black nor burnt; those hold no noise to be seen.
  const quiet = laplacian.filter((_, i) => topShare[i]! < 0.01 && meanLuma[i]! > 4).sort();
  const floor = quiet[Math.floor(quiet.length / 20)] ?? 0;
  return {
    gradientXX: means(2, 0.25),
    gradientXY: means(3, 0.25),
    gradientYY: means(4, 0.25),
    detail: laplacian.map((value) => Math.max(0, value - floor)),
    topShare,
    meanLuma,
    noiseSigma: Math.sqrt(floor / LAPLACIAN_OF_WHITE_NOISE),
  };
}
