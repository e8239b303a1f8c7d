/** Spectra of a window, gathered into sectors of direction and rings of frequency. */
import { hannWindow, transformLaid } from '../fourier.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { spectrumBins, type SpectrumBins } from './spectrum-bins.ts';

/** One cell of the spectrum: sector, mean frequency, and what was summed in it. */
export interface SpectrumCell {
  readonly sector: number;
  /** Mean of u², u v and v² over the cell [cycles²/px²]. */
  readonly uu: number;
  readonly uv: number;
  readonly vv: number;
  /** Power of the first picture and of the second, real part of their cross-spectrum, number of samples. */
  readonly first: number;
  readonly second: number;
  readonly cross: number;
  readonly count: number;
}

/**
 * Mean power of each cell, through a Hann window on the picture's middle; white noise of variance s² gives s².
 *
 * @param windowPx side of the window [px], at most 512
 * @param edges frequencies that bound the rings [cycles/px]
 * @returns sector by sector, ring by ring [code²]; 0 where a cell holds no sample
 */
export function powerSpectrum(
  kernel: Kernel,
  image: FloatImage,
  windowPx: number,
  edges: readonly number[],
): { readonly power: Float64Array; readonly count: Float64Array; readonly side: number } {
  const side = sideOf(windowPx);
  const bins = spectrumBins(side, edges);
  const mark = kernel.mark();
  const re = underWindow(kernel, layImage(kernel, image), side, windowPx);
  const im = kernel.allocate(side * side * 4);
  transformLaid(kernel, { side, re, im });
  const cells = bins.count.length;
  const sums = kernel.allocate(cells * 8);
  kernel.run.powerSums(re, im, side, layCells(kernel, bins), sums);
  const scale = 1 / windowPower(side, windowPx);
  const power = kernel
    .float64(sums, cells)
    .map((sum, cell) => (sum * scale) / Math.max(1, bins.count[cell]!));
  kernel.release(mark);
  return { power, count: bins.count, side };
}

/** A picture in the kernel: a plane of f32 at `pointer`. */
export interface LaidImage {
  readonly width: number;
  readonly height: number;
  readonly pointer: number;
}

/**
 * Power and cross-spectrum of two pictures of the same place, through a Hann window on their middle.
 *
 * What is left of a shift between them is taken out first, by the slope of the cross-spectrum's phase.
 *
 * @param windowPx side of the window [px], at most 512
 * @param rings number of rings between 0 and `highest`
 * @param highest largest frequency [cycles/px], at most 0.5
 */
export function crossSpectrum(
  kernel: Kernel,
  pictures: { readonly first: LaidImage; readonly second: LaidImage },
  windowPx: number,
  rings: number,
  highest: number,
): { readonly cells: SpectrumCell[]; readonly windowPower: number } {
  const side = sideOf(windowPx);
  const lowest = 1.5 / windowPx;
  const edges = Array.from({ length: rings + 1 }, (_, i) => Math.max(lowest, (i * highest) / rings));
  const bins = spectrumBins(side, edges);
  const mark = kernel.mark();
  // Both at once, as the real and the imaginary part: their spectra come apart by symmetry.
  const re = underWindow(kernel, pictures.first, side, windowPx);
  const im = underWindow(kernel, pictures.second, side, windowPx);
  transformLaid(kernel, { side, re, im });
  const shift = phaseSlope(kernel.float32(re, side * side), kernel.float32(im, side * side), side);
  const turns = kernel.reserve(side * 16);
  kernel.float32(turns, side * 2).set(turnsBack(side, shift.x));
  kernel.float32(turns + side * 8, side * 2).set(turnsBack(side, shift.y));
  const sumsAt = kernel.allocate(bins.count.length * 24);
  kernel.run.crossSums(re, im, side, layCells(kernel, bins), turns, sumsAt);
  const sums = kernel.float64(sumsAt, bins.count.length * 3);
  const cells: SpectrumCell[] = [];
  bins.count.forEach((count, cell) => {
    if (count === 0) return;
    cells.push({
      sector: Math.floor(cell / bins.rings),
      uu: bins.uu[cell]! / count,
      uv: bins.uv[cell]! / count,
      vv: bins.vv[cell]! / count,
      first: sums[cell * 3]! / count,
      second: sums[cell * 3 + 1]! / count,
      cross: sums[cell * 3 + 2]! / count,
      count,
    });
  });
  kernel.release(mark);
  return { cells, windowPower: windowPower(side, windowPx) };
}

/** Lays a picture on the kernel's stack. */
export function layImage(kernel: Kernel, { width, height, data }: FloatImage): LaidImage {
  const pointer = kernel.reserve(width * height * 4);
  kernel.float32(pointer, width * height).set(data);
  return { width, height, pointer };
}

/** The least transform that holds the window. */
function sideOf(windowPx: number): number {
  return windowPx > 256 ? 512 : windowPx > 128 ? 256 : 128;
}

function windowPower(side: number, windowPx: number): number {
  const line = hannWindow(side, Math.min(windowPx, side)).reduce((sum, value) => sum + value * value, 0);
  return line * line;
}

function underWindow(
  kernel: Kernel,
  { width, height, pointer }: LaidImage,
  side: number,
  windowPx: number,
): number {
  const plane = kernel.allocate(side * side * 4);
  const weights = kernel.reserve(side * 4);
  kernel.float32(weights, side).set(hannWindow(side, Math.min(windowPx, side)));
  const left = Math.floor((width - side) / 2);
  const top = Math.floor((height - side) / 2);
  kernel.run.underWindow(pointer, width, height, left, top, side, weights, plane);
  return plane;
}

function layCells(kernel: Kernel, { cellOf }: SpectrumBins): number {
  const pointer = kernel.reserve(cellOf.length * 2);
  // The same bits: none is a cell of -1.
  kernel.uint16(pointer, cellOf.length).set(cellOf);
  return pointer;
}

/** Cosine, then sine, of -2 pi f shift for every frequency of a side: what turns a shift back. */
function turnsBack(side: number, shift: number): Float32Array {
  return Float32Array.from({ length: 2 * side }, (_, i) => {
    const u = i % side;
    const angle = (-2 * Math.PI * shift * (u < side / 2 ? u : u - side)) / side;
    return i < side ? Math.cos(angle) : Math.sin(angle);
  });
}

/**
 * Shift of the second picture against the first [px] by least squares on the phase of the low frequencies.
 *
 * @param packed transform of both, the second as the imaginary part
 */
function phaseSlope(
  packedRe: Float32Array,
  packedIm: Float32Array,
  side: number,
): { readonly x: number; readonly y: number } {
  let [xx, xy, yy, xp, yp] = [0, 0, 0, 0, 0];
  const most = Math.floor(side * 0.12);
  for (let v = 0; v <= most; v++) {
    for (let su = -most; su <= most; su++) {
      if ((v === 0 && su <= 0) || su * su + v * v > most * most) continue;
      const at = v * side + ((su + side) & (side - 1));
      const mirror = ((side - v) & (side - 1)) * side + ((side - su) & (side - 1));
      // Twice each picture's spectrum, by symmetry.
      const ar = packedRe[at]! + packedRe[mirror]!;
      const ai = packedIm[at]! - packedIm[mirror]!;
      const br = packedIm[at]! + packedIm[mirror]!;
      const bi = packedRe[mirror]! - packedRe[at]!;
      const re = ar * br + ai * bi;
      const im = ar * bi - ai * br;
      const size = Math.sqrt(re * re + im * im);
      if (!(size > 0)) continue;
      // exp(-2 pi i f d): the phase is -2 pi f d; a half turn would be a shift of 4 px at these frequencies.
      const phase = -Math.atan2(im, re) / (2 * Math.PI);
      const fu = su / side;
      const fv = v / side;
      xx += size * fu * fu;
      xy += size * fu * fv;
      yy += size * fv * fv;
      xp += size * fu * phase;
      yp += size * fv * phase;
    }
  }
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-9 * xx * yy)) return { x: 0, y: 0 };
  return { x: (yy * xp - xy * yp) / determinant, y: (xx * yp - xy * xp) / determinant };
}
