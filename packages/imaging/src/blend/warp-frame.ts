/** Brings a frame onto the reference: six-tap windowed sinc in two passes, a row at a time. */
import type { Rgb16Image, Rgb8Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import type { DisplacementGrid } from '../register/displacement.ts';

/** Samples that a row is prolonged by at either end [px]. */
const MARGIN = 8;

/**
 * Writes the frame, seen from the reference, into three planes of f32, 0..1 times the gains.
 *
 * Across each row of the frame first, at the places whose row this will be; then down the columns. Both passes read
 * six samples with the weights sinc(x) sinc(x / 3), to 1/512 px; an undisplaced frame comes through unchanged. Rows are
 * handed to the kernel one after another, so that the frame itself never lies in its memory.
 *
 * @param grid displacements of less than 1 px a px of slope
 * @param planes pointers to size.width x size.height f32 each
 * @param size of the reference [px]
 */
export function warpFrame(
  kernel: Kernel,
  frame: Rgb8Image | Rgb16Image,
  grid: DisplacementGrid,
  gains: readonly [number, number, number],
  planes: readonly [number, number, number],
  size: { readonly width: number; readonly height: number },
): void {
  const { run } = kernel;
  const mark = kernel.mark();
  const { cellPx, columns } = grid;
  const reach = extent(grid.dy);
  const slots = 2 ** Math.ceil(Math.log2(reach.high - reach.low + 10));
  const stride = Math.ceil((size.width + 8) / 4) * 16;
  const rings = [0, 1, 2].map(() => kernel.reserve(slots * stride)) as [number, number, number];
  const rows = [0, 1, 2].map(() => kernel.reserve((frame.width + 2 * MARGIN) * 4) + MARGIN * 4);
  const [red, green, blue] = rows as [number, number, number];
  const wide = frame.data instanceof Uint16Array;
  const samples = frame.width * 3;
  const stored = kernel.reserve(samples * 2 + 16);
  const places = kernel.reserve((columns + 1) * 4);
  const into = wide ? kernel.uint16(stored, samples) : kernel.bytes(stored, samples);
  const nodes = kernel.float32(places, columns);
  const convert = wide ? run.planesOf16 : run.planesOf8;
  const back = backwards(grid);

  let filled = Math.max(0, Math.min(frame.height - 8, Math.floor(reach.low) - 4));
  for (let y = 0; y < size.height; y++) {
    const needed = Math.min(frame.height, Math.max(1, Math.ceil(y + reach.high) + 5));
    for (; filled < needed; filled++) {
      into.set(frame.data.subarray(filled * samples, (filled + 1) * samples));
      convert(stored, frame.width, red, green, blue, ...gains);
      back(filled, nodes);
      const slot = (filled & (slots - 1)) * stride;
      const [a, b, c] = rings;
      run.resampleAcross(
        red,
        green,
        blue,
        frame.width,
        places,
        cellPx,
        a + slot,
        b + slot,
        c + slot,
        size.width,
      );
    }
    downwards(grid, y, nodes);
    const out = y * size.width * 4;
    run.resampleDown(
      ...rings,
      slots,
      stride,
      frame.height,
      places,
      cellPx,
      planes[0] + out,
      planes[1] + out,
      planes[2] + out,
      size.width,
    );
  }
  kernel.release(mark);
}

/** The frame's rows at the nodes of one row of the reference. */
function downwards({ cellPx, columns, rows, dy }: DisplacementGrid, y: number, nodes: Float32Array): void {
  const row = Math.min(rows - 2, Math.floor(y / cellPx));
  const share = y / cellPx - row;
  for (let j = 0, at = row * columns; j < columns; j++, at++) {
    nodes[j] = y + dy[at]! + share * (dy[at + columns]! - dy[at]!);
  }
}

/** For one row of the frame after another: the frame's columns at the nodes, where the reference meets that row. */
function backwards({ cellPx, columns, rows, dx, dy }: DisplacementGrid) {
  const met = new Float64Array(columns);
  return (v: number, nodes: Float32Array): void => {
    for (let j = 0; j < columns; j++) {
      let y = met[j]!;
      let at = 0;
      let share = 0;
      for (let i = 0; i < 3; i++) {
        const row = Math.min(rows - 2, Math.max(0, Math.floor(y / cellPx)));
        at = row * columns + j;
        share = y / cellPx - row;
        const slope = (dy[at + columns]! - dy[at]!) / cellPx;
        const step = (v - y - dy[at]! - slope * (y - row * cellPx)) / Math.max(0.3, 1 + slope);
        y += step;
        if (step < 1e-3 && step > -1e-3) break;
      }
      met[j] = y;
      share = y / cellPx - Math.floor(at / columns);
      nodes[j] = j * cellPx + dx[at]! + share * (dx[at + columns]! - dx[at]!);
    }
  };
}

function extent(values: Float32Array): { readonly low: number; readonly high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return { low, high };
}
