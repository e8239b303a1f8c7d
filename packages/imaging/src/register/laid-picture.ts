/** A picture laid into the kernel with its smaller sizes, for the loops that registration runs there. */
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';

/** One size of it: a plane of f32 at `pointer`, `factor` times smaller than the picture given. */
export interface LaidLevel {
  readonly width: number;
  readonly height: number;
  readonly pointer: number;
  readonly factor: number;
  /** Above this a sample may be burnt out. */
  readonly top: number;
}

/** Sizes from the one given (first) down to a long side of at most 96 px. */
export type LaidPicture = readonly [LaidLevel, ...LaidLevel[]];

const COARSEST_LONG_SIDE = 96;
const LEAST_SHORT_SIDE = 48;
const BURNT_FROM = 0.97;

/** Lays a picture on the kernel's stack: release it with a mark taken before. */
export function layPicture(kernel: Kernel, image: FloatImage): LaidPicture {
  const { width, height, data } = image;
  const pointer = kernel.reserve(width * height * 4 + 32);
  kernel.float32(pointer, width * height).set(data);
  return laySizes(kernel, { width, height, pointer });
}

/** Lays the smaller sizes of a plane that is in the kernel already; those go with the mark, the plane stays. */
export function laySizes(kernel: Kernel, plane: Omit<LaidLevel, 'factor' | 'top'>): LaidPicture {
  let most = -Infinity;
  const samples = kernel.float32(plane.pointer, plane.width * plane.height);
  // By index: an iterator over a typed array costs ten times as much.
  for (let i = 0; i < samples.length; i++) if (samples[i]! > most) most = samples[i]!;
  // Noise and interpolation scatter burnt samples a little; a picture that is not burnt loses its few lightest.
  const top = most > 0 ? BURNT_FROM * most : most;
  const levels: [LaidLevel, ...LaidLevel[]] = [{ ...plane, factor: 1, top }];
  for (let last: LaidLevel = levels[0]; ; last = levels[levels.length - 1]!) {
    const done = Math.max(last.width, last.height) <= COARSEST_LONG_SIDE;
    if (done || Math.min(last.width, last.height) < LEAST_SHORT_SIDE) return levels;
    const half = { width: last.width >> 1, height: last.height >> 1, factor: last.factor * 2, top };
    const to = kernel.reserve(half.width * half.height * 4 + 32);
    kernel.run.halve(last.pointer, last.width, last.height, to);
    levels.push({ ...half, pointer: to });
  }
}

/** @returns a copy of one size */
export function readLevel(kernel: Kernel, { width, height, pointer }: LaidLevel): FloatImage {
  return { width, height, data: kernel.float32(pointer, width * height).slice() };
}
