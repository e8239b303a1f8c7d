/** Photographs blurred, moved and made noisy by known amounts: the truth that measures are held against. */
import { DomainError } from '@tepal/science';
import { fourierTransform } from '../fourier.ts';
import { checkImage, type FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { warp } from '../register/resample.ts';
import { toTerms, type Similarity } from '../register/similarity.ts';
import { transferOf, type RenderedBlur } from './transfer.ts';

/**
 * Blurs a picture exactly, by its spectrum; mirrored beyond its borders.
 *
 * @param image any range, at most 1,900 px each way
 * @returns a picture of the same size and range
 * @throws DomainError if the picture is malformed or too large
 */
export function renderBlur(kernel: Kernel, image: FloatImage, blur: RenderedBlur): FloatImage {
  checkImage('image', image, 1);
  const { width, height, data } = image;
  const margin = Math.ceil(
    3 * (blur.gaussianSigmaPx ?? 0) + (blur.discDiameterPx ?? 0) + (blur.streak?.lengthPx ?? 0),
  );
  const side = 2 ** Math.ceil(Math.log2(Math.max(16, width + margin, height + margin)));
  if (side > 2048)
    throw new DomainError('outOfRange', 'a picture of at most 1,900 px', 'image', Math.max(width, height));
  const plane = { side, re: new Float32Array(side * side), im: new Float32Array(side * side) };
  for (let y = 0; y < side; y++) {
    const sy = mirrored(y, height, side);
    for (let x = 0; x < side; x++) plane.re[y * side + x] = data[sy * width + mirrored(x, width, side)]!;
  }
  fourierTransform(kernel, plane);
  for (let v = 0; v < side; v++) {
    for (let u = 0; u < side; u++) {
      const transfer = transferOf(
        blur,
        (u < side / 2 ? u : u - side) / side,
        (v < side / 2 ? v : v - side) / side,
      );
      plane.re[v * side + u]! *= transfer;
      plane.im[v * side + u]! *= transfer;
    }
  }
  const back = { side, re: plane.im, im: plane.re };
  fourierTransform(kernel, back);
  const out = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) out[y * width + x] = back.im[y * side + x]! / side ** 2;
  }
  return { width, height, data: out };
}

/** Beyond the far border the first half of what is left mirrors that border, the second half the near one. */
function mirrored(i: number, length: number, side: number): number {
  if (i < length) return i;
  const beyond = i - length;
  const at = beyond < (side - length) / 2 ? length - 1 - beyond : side - 1 - i;
  return Math.min(length - 1, Math.max(0, at));
}

/** The picture as the moving frame of a series sees it: `motion` takes the result back onto `image`. */
export function renderDrift(image: FloatImage, motion: Similarity): FloatImage {
  return warp(image, toTerms(motion), image);
}

/**
 * Adds white Gaussian noise.
 *
 * @param sigma in the picture's codes
 * @param seed any whole number; the same seed gives the same noise
 */
export function renderNoise(image: FloatImage, sigma: number, seed: number): FloatImage {
  const random = seeded(seed);
  const data = image.data.map((value) => {
    const radius = Math.sqrt(-2 * Math.log(1 - random()));
    return value + sigma * radius * Math.cos(2 * Math.PI * random());
  });
  return { ...image, data };
}

/** A small seeded generator of numbers in 0..1 (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}
