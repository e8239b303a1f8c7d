/** Two-dimensional Fourier transforms of square planes, in the kernel. */
import { requireOneOf } from '@tepal/science';
import type { Kernel } from './kernel.ts';

const SIZES = ['16', '32', '64', '128', '256', '512', '1024', '2048'] as const;

/** A complex plane of side x side samples, row by row. */
export interface ComplexPlane {
  readonly side: number;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

/**
 * Transforms a square plane in place, without scaling: F(u, v) = sum of f(x, y) exp(-2 pi i (u x + v y) / side).
 * For the inverse, exchange re and im, transform, and divide by side².
 *
 * @param plane side a power of two, 16..2048
 * @throws DomainError for another side
 */
export function fourierTransform(kernel: Kernel, plane: ComplexPlane): void {
  const { side, re, im } = plane;
  requireOneOf('plane.side', String(side), SIZES);
  const mark = kernel.mark();
  const area = side * side;
  const reAt = kernel.reserve(area * 4);
  const imAt = kernel.reserve(area * 4);
  kernel.float32(reAt, area).set(re);
  kernel.float32(imAt, area).set(im);
  transformLaid(kernel, { side, re: reAt, im: imAt });
  re.set(kernel.float32(reAt, area));
  im.set(kernel.float32(imAt, area));
  kernel.release(mark);
}

/** The same for planes that lie in the kernel already, by their pointers. */
export function transformLaid(
  kernel: Kernel,
  { side, re, im }: { readonly side: number; readonly re: number; readonly im: number },
): void {
  requireOneOf('plane.side', String(side), SIZES);
  const mark = kernel.mark();
  const turnsAt = kernel.reserve(side * 4);
  kernel.float32(turnsAt, side).set(turnsOf(side));
  // The butterflies know cosines and sines of positive angles and apply exp(-i angle).
  for (let pass = 0; pass < 2; pass++) {
    kernel.run.fftColumns(re, im, side, side, turnsAt, turnsAt + side * 2);
    kernel.run.transpose(re, side);
    kernel.run.transpose(im, side);
  }
  kernel.release(mark);
}

const turnsMade = new Map<number, Float32Array>();

/** Cosines, then sines, of the first half turn; made once a size. */
function turnsOf(side: number): Float32Array {
  const known = turnsMade.get(side);
  if (known !== undefined) return known;
  const turns = Float32Array.from({ length: side }, (_, i) => {
    const angle = (2 * Math.PI * (i % (side / 2))) / side;
    return i < side / 2 ? Math.cos(angle) : Math.sin(angle);
  });
  turnsMade.set(side, turns);
  return turns;
}

/** Transforms two real planes at once and hands back both spectra (packed as re + i im, taken apart by symmetry). */
export function transformPair(
  kernel: Kernel,
  side: number,
  first: Float32Array,
  second: Float32Array,
): { readonly first: ComplexPlane; readonly second: ComplexPlane } {
  const packed = { side, re: Float32Array.from(first), im: Float32Array.from(second) };
  fourierTransform(kernel, packed);
  const make = (): ComplexPlane => ({
    side,
    re: new Float32Array(side * side),
    im: new Float32Array(side * side),
  });
  const a = make();
  const b = make();
  for (let v = 0; v < side; v++) {
    for (let u = 0; u < side; u++) {
      const at = v * side + u;
      const mirror = ((side - v) & (side - 1)) * side + ((side - u) & (side - 1));
      const [re, im, reM, imM] = [packed.re[at]!, packed.im[at]!, packed.re[mirror]!, packed.im[mirror]!];
      a.re[at] = (re + reM) / 2;
      a.im[at] = (im - imM) / 2;
      b.re[at] = (im + imM) / 2;
      b.im[at] = (reM - re) / 2;
    }
  }
  return { first: a, second: b };
}

/** @returns a Hann window of `length` samples in the middle of `side`, zero outside [0..1] */
export function hannWindow(side: number, length = side): Float32Array {
  const start = (side - length) / 2;
  return Float32Array.from({ length: side }, (_, i) => {
    const t = (i - start + 0.5) / length;
    return t > 0 && t < 1 ? Math.sin(Math.PI * t) ** 2 : 0;
  });
}
