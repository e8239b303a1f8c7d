/** Where each pixel of the reference lies in a frame, on a grid of nodes: any motion in one form. */
import type { Kernel } from '../kernel.ts';
import type { SimilarityTerms } from './similarity.ts';

/**
 * Displacements at nodes every `cellPx` of the reference, read linearly in between: the reference's pixel (x, y), from
 * its top left, is at (x + dx, y + dy) of the frame, from its top left.
 *
 * `columns` x `rows` nodes reach to the reference's last pixel or past it.
 */
export interface DisplacementGrid {
  readonly cellPx: number;
  readonly columns: number;
  readonly rows: number;
  readonly dx: Float32Array;
  readonly dy: Float32Array;
}

/** @returns a grid without displacement for a reference of this size; `cellPx` a multiple of 4 */
export function stillGrid(
  size: { readonly width: number; readonly height: number },
  cellPx: number,
): DisplacementGrid {
  const columns = Math.ceil(size.width / cellPx) + 1;
  const rows = Math.ceil(size.height / cellPx) + 1;
  const nodes = columns * rows;
  return { cellPx, columns, rows, dx: new Float32Array(nodes), dy: new Float32Array(nodes) };
}

/**
 * The grid of a similarity, exact at and between the nodes.
 *
 * @param terms takes a pixel of the reference to the frame, both counted from their top-left pixels
 */
export function gridOfTerms(
  { a, b, x, y }: SimilarityTerms,
  size: { readonly width: number; readonly height: number },
  cellPx: number,
): DisplacementGrid {
  const grid = stillGrid(size, cellPx);
  for (let row = 0, at = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++, at++) {
      const qx = column * cellPx;
      const qy = row * cellPx;
      grid.dx[at] = (a - 1) * qx - b * qy + x;
      grid.dy[at] = b * qx + (a - 1) * qy + y;
    }
  }
  return grid;
}

/** Lays a grid on the kernel's stack as nodeSums reads it. @returns the pointer to dx, with dy behind it */
export function layGrid(kernel: Kernel, { dx, dy }: DisplacementGrid): number {
  const pointer = kernel.reserve((dx.length + dy.length) * 4);
  kernel.float32(pointer, dx.length).set(dx);
  kernel.float32(pointer + dx.length * 4, dy.length).set(dy);
  return pointer;
}
