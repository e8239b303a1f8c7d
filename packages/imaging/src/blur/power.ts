/** Spectra of a window, gathered into sectors of direction and rings of frequency. */
import { fourierTransform, hannWindow, type ComplexPlane } from '../fourier.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { spectrumBins } from './spectrum-bins.ts';

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
  const { cellOf, count } = spectrumBins(side, edges);
  const plane = { side, re: windowed(image, side, windowPx), im: new Float32Array(side * side) };
  fourierTransform(kernel, plane);
  const power = new Float64Array(count.length);
  for (let at = 0; at < cellOf.length; at++) {
    const cell = cellOf[at]!;
    if (cell >= 0) power[cell]! += plane.re[at]! ** 2 + plane.im[at]! ** 2;
  }
  const scale = 1 / windowPower(side, windowPx);
  return { power: power.map((sum, cell) => (sum * scale) / Math.max(1, count[cell]!)), count, side };
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
  pictures: { readonly first: FloatImage; readonly second: FloatImage },
  windowPx: number,
  rings: number,
  highest: number,
): { readonly cells: SpectrumCell[]; readonly windowPower: number } {
  const side = sideOf(windowPx);
  const lowest = 1.5 / windowPx;
  const edges = Array.from({ length: rings + 1 }, (_, i) => Math.max(lowest, (i * highest) / rings));
  const bins = spectrumBins(side, edges);
  // Both at once, as the real and the imaginary part: their spectra come apart by symmetry.
  const packed = {
    side,
    re: windowed(pictures.first, side, windowPx),
    im: windowed(pictures.second, side, windowPx),
  };
  fourierTransform(kernel, packed);
  const product = productOf(packed);
  const slope = phaseSlope(product, side);
  const [turnU, turnV] = [turns(side, slope.x), turns(side, slope.y)];
  const first = new Float64Array(bins.count.length);
  const second = new Float64Array(bins.count.length);
  const cross = new Float64Array(bins.count.length);
  for (let v = 0, at = 0; v < side / 2; v++) {
    const [cv, sv] = [turnV.cos[v]!, turnV.sin[v]!];
    for (let u = 0; u < side; u++, at++) {
      const cell = bins.cellOf[at]!;
      if (cell < 0) continue;
      const [cu, su] = [turnU.cos[u]!, turnU.sin[u]!];
      first[cell]! += product.first[at]!;
      second[cell]! += product.second[at]!;
      cross[cell]! += product.re[at]! * (cu * cv - su * sv) + product.im[at]! * (su * cv + cu * sv);
    }
  }
  const cells: SpectrumCell[] = [];
  bins.count.forEach((count, cell) => {
    if (count === 0) return;
    cells.push({
      sector: Math.floor(cell / bins.rings),
      uu: bins.uu[cell]! / count,
      uv: bins.uv[cell]! / count,
      vv: bins.vv[cell]! / count,
      first: first[cell]! / count,
      second: second[cell]! / count,
      cross: cross[cell]! / count,
      count,
    });
  });
  return { cells, windowPower: windowPower(side, windowPx) };
}

/** The least transform that holds the window. */
function sideOf(windowPx: number): number {
  return windowPx > 256 ? 512 : windowPx > 128 ? 256 : 128;
}

function windowPower(side: number, windowPx: number): number {
  const line = hannWindow(side, Math.min(windowPx, side)).reduce((sum, value) => sum + value * value, 0);
  return line * line;
}

function windowed(image: FloatImage, side: number, windowPx: number): Float32Array {
  const { width, height, data } = image;
  const length = Math.min(windowPx, side);
  const w = hannWindow(side, length);
  const left = Math.floor((width - side) / 2);
  const top = Math.floor((height - side) / 2);
  const from = Math.floor((side - length) / 2);
  const to = side - from;
  const columnOf = Int32Array.from({ length: side }, (_, x) => Math.min(width - 1, Math.max(0, x + left)));
  let weighted = 0;
  let weights = 0;
  const out = new Float32Array(side * side);
  for (let y = from; y < to; y++) {
    const row = Math.min(height - 1, Math.max(0, y + top)) * width;
    for (let x = from; x < to; x++) {
      const value = data[row + columnOf[x]!]!;
      const weight = w[x]! * w[y]!;
      out[y * side + x] = value;
      weighted += weight * value;
      weights += weight;
    }
  }
  const mean = weighted / weights;
  for (let y = from; y < to; y++) {
    for (let x = from; x < to; x++) {
      const at = y * side + x;
      out[at] = (out[at]! - mean) * w[x]! * w[y]!;
    }
  }
  return out;
}

/** Half of: both pictures' power, and the first's spectrum times the second's conjugate. */
interface SpectrumProduct {
  readonly first: Float32Array;
  readonly second: Float32Array;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

function productOf({ side, re, im }: ComplexPlane): SpectrumProduct {
  const half = (side * side) / 2;
  const product = {
    first: new Float32Array(half),
    second: new Float32Array(half),
    re: new Float32Array(half),
    im: new Float32Array(half),
  };
  for (let v = 0, at = 0; v < side / 2; v++) {
    const mirrorRow = ((side - v) & (side - 1)) * side;
    for (let u = 0; u < side; u++, at++) {
      const mirror = mirrorRow + ((side - u) & (side - 1));
      const ar = (re[at]! + re[mirror]!) / 2;
      const ai = (im[at]! - im[mirror]!) / 2;
      const br = (im[at]! + im[mirror]!) / 2;
      const bi = (re[mirror]! - re[at]!) / 2;
      product.first[at] = ar * ar + ai * ai;
      product.second[at] = br * br + bi * bi;
      product.re[at] = ar * br + ai * bi;
      product.im[at] = ar * bi - ai * br;
    }
  }
  return product;
}

/** Cosine and sine of -2 pi f shift for every frequency of a side: what turns a shift back. */
function turns(side: number, shift: number): { readonly cos: Float64Array; readonly sin: Float64Array } {
  const angle = (u: number) => (-2 * Math.PI * shift * (u < side / 2 ? u : u - side)) / side;
  return {
    cos: Float64Array.from({ length: side }, (_, u) => Math.cos(angle(u))),
    sin: Float64Array.from({ length: side }, (_, u) => Math.sin(angle(u))),
  };
}

/** Shift of the second picture against the first [px] by least squares on the phase of the low frequencies. */
function phaseSlope(product: SpectrumProduct, side: number): { readonly x: number; readonly y: number } {
  let [xx, xy, yy, xp, yp] = [0, 0, 0, 0, 0];
  const most = Math.floor(side * 0.12);
  for (let v = 0; v <= most; v++) {
    for (let su = -most; su <= most; su++) {
      if ((v === 0 && su <= 0) || su * su + v * v > most * most) continue;
      const at = v * side + ((su + side) & (side - 1));
      const [re, im] = [product.re[at]!, product.im[at]!];
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
