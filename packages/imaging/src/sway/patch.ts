/** Squares cut out of a frame, to be registered one by one. */
import type { FloatImage, LumaImage } from '../image.ts';

/** A square of a frame [px]. */
export interface Patch {
  readonly left: number;
  readonly top: number;
  readonly side: number;
}

/** A square of the frame as floating point. */
export function cut({ width, data }: LumaImage | FloatImage, { left, top, side }: Patch): FloatImage {
  const out = new Float32Array(side * side);
  for (let y = 0; y < side; y++) {
    const from = (top + y) * width + left;
    out.set(data.subarray(from, from + side), y * side);
  }
  return { width: side, height: side, data: out };
}
