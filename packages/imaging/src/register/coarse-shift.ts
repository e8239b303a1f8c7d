/** The start of a registration: a whole-picture shift by windowed, un-normalised phase correlation. */
import { hannWindow, transformPair, fourierTransform } from '../fourier.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';

/**
 * The shift that takes the moving picture onto the reference, to about half a pixel, by the peak of their
 * cross-correlation.
 *
 * Both pictures are windowed and the cross-spectrum is weighted by a band-pass instead of being normalised: empty
 * high frequencies of blurred scenes would otherwise get full weight (OI 6.1, warning). Pictures larger than `side`
 * are read from their middle.
 *
 * @param side of the transform, a power of two; the shift must stay well below half of it
 * @returns shift [px]: reference position = moving position + shift, from the pictures' centres
 * @source Kuglin & Hines 1975; Guizar-Sicairos et al. 2008 (un-normalised), via OI 6.1
 */
export function coarseShift(
  kernel: Kernel,
  reference: FloatImage,
  moving: FloatImage,
  side: number,
): { readonly x: number; readonly y: number } {
  const { first, second } = transformPair(kernel, side, windowed(reference, side), windowed(moving, side));
  const cross = { side, re: new Float32Array(side * side), im: new Float32Array(side * side) };
  // The band-pass is f² exp(-f² / (2 0.12²)), f in cycles a pixel: one factor for each axis.
  const squares = Float64Array.from({ length: side }, (_, u) => (Math.min(u, side - u) / side) ** 2);
  const falls = squares.map((square) => Math.exp(-square / (2 * 0.12 ** 2)));
  for (let v = 0; v < side; v++) {
    for (let u = 0; u < side; u++) {
      const at = v * side + u;
      const weight = (squares[u]! + squares[v]!) * falls[u]! * falls[v]!;
      // conj: the inverse transform below runs with re and im exchanged.
      cross.im[at] = weight * (first.re[at]! * second.re[at]! + first.im[at]! * second.im[at]!);
      cross.re[at] = weight * (first.im[at]! * second.re[at]! - first.re[at]! * second.im[at]!);
    }
  }
  fourierTransform(kernel, cross);
  const correlation = cross.im;
  let peak = 0;
  for (let i = 1; i < correlation.length; i++) if (correlation[i]! > correlation[peak]!) peak = i;
  const px = peak % side;
  const py = (peak - px) / side;
  const at = (x: number, y: number) => correlation[((y + side) % side) * side + ((x + side) % side)]!;
  const dx = px + parabolaPeak(at(px - 1, py), at(px, py), at(px + 1, py));
  const dy = py + parabolaPeak(at(px, py - 1), at(px, py), at(px, py + 1));
  return { x: dx > side / 2 ? dx - side : dx, y: dy > side / 2 ? dy - side : dy };
}

/**
 * Where the parabola through three equally spaced samples has its peak, from the middle one.
 *
 * @returns offset [samples], within -0.5..0.5 when the middle is the largest; 0 for three equal samples
 * @source OI 6.1: (a - c) / (2 (a - 2 b + c))
 */
export function parabolaPeak(a: number, b: number, c: number): number {
  const bend = a - 2 * b + c;
  return bend === 0 ? 0 : (a - c) / (2 * bend);
}

function windowed(image: FloatImage, side: number): Float32Array {
  const { width, height, data } = image;
  const mean = data.reduce((sum, value) => sum + value, 0) / data.length;
  const out = new Float32Array(side * side);
  const wx = hannWindow(side, Math.min(side, width));
  const wy = hannWindow(side, Math.min(side, height));
  const left = Math.floor((width - side) / 2);
  const top = Math.floor((height - side) / 2);
  for (let y = 0; y < side; y++) {
    const sy = y + top;
    if (sy < 0 || sy >= height) continue;
    for (let x = 0; x < side; x++) {
      const sx = x + left;
      if (sx >= 0 && sx < width) out[y * side + x] = (data[sy * width + sx]! - mean) * wx[x]! * wy[y]!;
    }
  }
  return out;
}
