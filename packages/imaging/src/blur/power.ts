/** Spectra of a window, gathered into sectors of direction and rings of frequency. */
import { hannWindow, transformPair } from '../fourier.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';

/** Directions of frequency are counted in image coordinates, x towards y, over 180°. */
export const SECTORS = 12;

/** One cell of the spectrum: sector, mean frequency [cycles/px], and what was summed in it. */
export interface SpectrumCell {
  readonly sector: number;
  /** Mean of u², u v and v² over the cell [cycles²/px²]. */
  readonly uu: number;
  readonly uv: number;
  readonly vv: number;
  readonly frequency: number;
  /** Power of the first picture and of the second, real part of their cross-spectrum, number of samples. */
  readonly first: number;
  readonly second: number;
  readonly cross: number;
  readonly count: number;
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
  const side = windowPx > 256 ? 512 : windowPx > 128 ? 256 : 128;
  const a = windowed(pictures.first, side, windowPx);
  const b = windowed(pictures.second, side, windowPx);
  const { first, second } = transformPair(kernel, side, a, b);
  const slope = phaseSlope(first, second, side);
  const sums = new Float64Array(SECTORS * rings * 8);
  const lowest = 1.5 / windowPx;
  for (let v = 0; v < side / 2; v++) {
    for (let su = -side / 2 + 1; su < side / 2; su++) {
      if (v === 0 && su <= 0) continue;
      const fu = su / side;
      const fv = v / side;
      const f = Math.hypot(fu, fv);
      if (f < lowest || f >= highest) continue;
      const at = v * side + ((su + side) & (side - 1));
      const angle = (Math.atan2(fv, fu) * SECTORS) / Math.PI;
      const sector = Math.floor(angle + 0.5) % SECTORS;
      const to = (sector * rings + Math.floor((f * rings) / highest)) * 8;
      const [ar, ai, br, bi] = [first.re[at]!, first.im[at]!, second.re[at]!, second.im[at]!];
      const turn = -2 * Math.PI * (fu * slope.x + fv * slope.y);
      const re = ar * br + ai * bi;
      const im = ar * bi - ai * br;
      sums[to]! += fu * fu;
      sums[to + 1]! += fu * fv;
      sums[to + 2]! += fv * fv;
      sums[to + 3]! += f;
      sums[to + 4]! += ar * ar + ai * ai;
      sums[to + 5]! += br * br + bi * bi;
      sums[to + 6]! += re * Math.cos(turn) + im * Math.sin(turn);
      sums[to + 7]! += 1;
    }
  }
  const cells: SpectrumCell[] = [];
  for (let sector = 0; sector < SECTORS; sector++) {
    for (let ring = 0; ring < rings; ring++) {
      const at = (sector * rings + ring) * 8;
      const count = sums[at + 7]!;
      if (count === 0) continue;
      const mean = (i: number) => sums[at + i]! / count;
      cells.push({
        sector,
        uu: mean(0),
        uv: mean(1),
        vv: mean(2),
        frequency: mean(3),
        first: mean(4),
        second: mean(5),
        cross: mean(6),
        count,
      });
    }
  }
  const w = hannWindow(side, Math.min(windowPx, side));
  const line = w.reduce((sum, value) => sum + value * value, 0);
  return { cells, windowPower: line * line };
}

function windowed(image: FloatImage, side: number, windowPx: number): Float32Array {
  const { width, height, data } = image;
  const length = Math.min(windowPx, side);
  const w = hannWindow(side, length);
  const left = Math.floor((width - side) / 2);
  const top = Math.floor((height - side) / 2);
  let weighted = 0;
  let weights = 0;
  const each = (visit: (to: number, from: number, weight: number) => void): void => {
    for (let y = 0; y < side; y++) {
      const sy = Math.min(height - 1, Math.max(0, y + top));
      if (w[y] === 0) continue;
      for (let x = 0; x < side; x++) {
        const sx = Math.min(width - 1, Math.max(0, x + left));
        if (w[x] !== 0) visit(y * side + x, sy * width + sx, w[x]! * w[y]!);
      }
    }
  };
  each((_, from, weight) => {
    weighted += weight * data[from]!;
    weights += weight;
  });
  const mean = weighted / weights;
  const out = new Float32Array(side * side);
  each((to, from, weight) => {
    out[to] = (data[from]! - mean) * weight;
  });
  return out;
}

/** Shift of the second picture against the first [px] by least squares on the phase of the low frequencies. */
function phaseSlope(
  first: { readonly re: Float32Array; readonly im: Float32Array },
  second: { readonly re: Float32Array; readonly im: Float32Array },
  side: number,
): { readonly x: number; readonly y: number } {
  let [xx, xy, yy, xp, yp] = [0, 0, 0, 0, 0];
  const most = Math.floor(side * 0.12);
  for (let v = 0; v <= most; v++) {
    for (let su = -most; su <= most; su++) {
      if ((v === 0 && su <= 0) || su * su + v * v > most * most) continue;
      const at = v * side + ((su + side) & (side - 1));
      const [ar, ai, br, bi] = [first.re[at]!, first.im[at]!, second.re[at]!, second.im[at]!];
      const re = ar * br + ai * bi;
      const im = ar * bi - ai * br;
      const size = Math.hypot(re, im);
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
