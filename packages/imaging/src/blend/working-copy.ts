/** The small copies of a frame that registration and exposure matching read. */
import type { FloatImage, Rgb16Image, Rgb8Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { toTerms, type Similarity } from '../register/similarity.ts';

/** A frame box-reduced by `factor`: luma (R + 2 G + B) / 4 in 0..255, and its channels in 0..1. */
export interface WorkingCopy {
  readonly luma: FloatImage;
  readonly channels: readonly [Float32Array, Float32Array, Float32Array];
  readonly factor: number;
}

/** @returns the frame box-reduced to at most `longSidePx` */
export function workingCopy(kernel: Kernel, frame: Rgb8Image | Rgb16Image, longSidePx: number): WorkingCopy {
  const { run } = kernel;
  const factor = Math.ceil(Math.max(frame.width, frame.height) / longSidePx);
  const width = Math.floor(frame.width / factor);
  const height = Math.floor(frame.height / factor);
  const mark = kernel.mark();
  const wide = frame.data instanceof Uint16Array;
  const samples = frame.width * 3;
  const stored = kernel.reserve(samples * 2 + 16);
  const rowBytes = (frame.width + 16) * 4;
  const rows = [0, 1, 2].map(() => kernel.reserve(rowBytes) + 32) as [number, number, number];
  const sums = [0, 1, 2].map(() => kernel.reserve(rowBytes));
  const boxed = kernel.reserve(width * 4);
  const into = wide ? kernel.uint16(stored, samples) : kernel.bytes(stored, samples);
  const sumsView = sums.map((sum) => kernel.float32(sum, frame.width));
  const boxedView = kernel.float32(boxed, width);
  const convert = wide ? run.planesOf16 : run.planesOf8;
  const channels = [0, 1, 2].map(() => new Float32Array(width * height)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  for (let y = 0; y < height; y++) {
    for (const view of sumsView) view.fill(0);
    for (let i = 0; i < factor; i++) {
      const from = (y * factor + i) * samples;
      into.set(frame.data.subarray(from, from + samples));
      convert(stored, frame.width, ...rows, 1, 1, 1);
      sums.forEach((sum, channel) => run.addPlane(sum, rows[channel]!, frame.width));
    }
    sums.forEach((sum, channel) => {
      run.boxAcross(sum, factor, 1 / factor ** 2, boxed, width);
      channels[channel]!.set(boxedView, y * width);
    });
  }
  kernel.release(mark);
  const [red, green, blue] = channels;
  const data = new Float32Array(width * height);
  for (let i = 0; i < data.length; i++) data[i] = (red[i]! + 2 * green[i]! + blue[i]!) * (255 / 4);
  return { luma: { width, height, data }, channels, factor };
}

/** Encoded values are near this power of light, whatever the profile says exactly. */
const ENCODING = 2.2;

/**
 * The gain of each channel that brings a frame to the reference's brightness: the ratio of their mean light over the
 * part that both show. Means, because a regression of a soft frame on a sharp one would take contrast for brightness;
 * of light, because defocus spreads light and keeps its sum.
 *
 * @param motion frame to reference, px of the copies
 * @returns gains of red, green and blue, on the encoded values, 0.5..2
 */
export function channelGains(
  reference: WorkingCopy,
  frame: WorkingCopy,
  motion: Similarity,
): readonly [number, number, number] {
  const { a, b, x: tx, y: ty } = toTerms(motion);
  const { width, height } = frame.luma;
  const to = reference.luma;
  const sums = new Float64Array(6);
  const step = Math.max(1, Math.round(Math.sqrt((width * height) / 60_000)));
  for (let y = step >> 1; y < height; y += step) {
    const py = y - (height - 1) / 2;
    for (let x = step >> 1; x < width; x += step) {
      const px = x - (width - 1) / 2;
      const qx = Math.round(a * px - b * py + tx + (to.width - 1) / 2);
      const qy = Math.round(b * px + a * py + ty + (to.height - 1) / 2);
      if (qx < 0 || qy < 0 || qx >= to.width || qy >= to.height) continue;
      for (let channel = 0; channel < 3; channel++) {
        const here = frame.channels[channel]![y * width + x]!;
        const there = reference.channels[channel]![qy * to.width + qx]!;
        // A burnt sample tells nothing of the exposure.
        if (here > 0.976 || there > 0.976) continue;
        sums[channel]! += there ** ENCODING;
        sums[channel + 3]! += here ** ENCODING;
      }
    }
  }
  const gain = (channel: number): number => {
    const ratio = (sums[channel]! / sums[channel + 3]!) ** (1 / ENCODING);
    return ratio > 0 && Number.isFinite(ratio) ? Math.min(2, Math.max(0.5, ratio)) : 1;
  };
  return [gain(0), gain(1), gain(2)];
}
