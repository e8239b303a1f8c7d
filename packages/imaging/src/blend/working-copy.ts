/** The small copies of a frame that registration and exposure matching read. */
import type { FloatImage, Rgb16Image } from '../image.ts';
import { toTerms, type Similarity } from '../register/similarity.ts';

/** Luma (R + 2 G + B) / 4 in 0..255, box-reduced by `factor`. */
export interface WorkingCopy {
  readonly luma: FloatImage;
  readonly factor: number;
}

/** @returns a box-reduced luma of at most `longSidePx` */
export function workingCopy(frame: Rgb16Image, longSidePx: number): WorkingCopy {
  const factor = Math.ceil(Math.max(frame.width, frame.height) / longSidePx);
  const width = Math.floor(frame.width / factor);
  const height = Math.floor(frame.height / factor);
  const data = new Float32Array(width * height);
  const scale = 1 / (4 * 257 * factor * factor);
  for (let y = 0; y < height * factor; y++) {
    const out = Math.floor(y / factor) * width;
    let at = y * frame.width * 3;
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let i = 0; i < factor; i++, at += 3) {
        sum += frame.data[at]! + 2 * frame.data[at + 1]! + frame.data[at + 2]!;
      }
      data[out + x]! += sum * scale;
    }
  }
  return { luma: { width, height, data }, factor };
}

/**
 * The gain of each channel that brings a frame to the reference's brightness: the ratio of their means over the part
 * that both show. Means, because a regression of a soft frame on a sharp one would take contrast for brightness.
 *
 * @param motion frame to reference, px of the full frames
 * @returns gains of red, green and blue, on the encoded values, 0.5..2
 */
export function channelGains(
  reference: Rgb16Image,
  frame: Rgb16Image,
  motion: Similarity,
): readonly [number, number, number] {
  const { a, b, x: tx, y: ty } = toTerms(motion);
  const sums = new Float64Array(6);
  const step = Math.max(1, Math.round(Math.sqrt((frame.width * frame.height) / 60_000)));
  for (let y = step >> 1; y < frame.height; y += step) {
    const py = y - (frame.height - 1) / 2;
    for (let x = step >> 1; x < frame.width; x += step) {
      const px = x - (frame.width - 1) / 2;
      const qx = Math.round(a * px - b * py + tx + (reference.width - 1) / 2);
      const qy = Math.round(b * px + a * py + ty + (reference.height - 1) / 2);
      if (qx < 0 || qy < 0 || qx >= reference.width || qy >= reference.height) continue;
      const from = (y * frame.width + x) * 3;
      const to = (qy * reference.width + qx) * 3;
      for (let channel = 0; channel < 3; channel++) {
        const here = frame.data[from + channel]!;
        const there = reference.data[to + channel]!;
        // A burnt sample tells nothing of the exposure.
        if (here > 64_000 || there > 64_000) continue;
        sums[channel]! += there;
        sums[channel + 3]! += here;
      }
    }
  }
  const gain = (channel: number): number => {
    const ratio = sums[channel]! / sums[channel + 3]!;
    return ratio > 0 && Number.isFinite(ratio) ? Math.min(2, Math.max(0.5, ratio)) : 1;
  };
  return [gain(0), gain(1), gain(2)];
}
