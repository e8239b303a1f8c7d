/** The linear step of local motion: displacements that suit the sums at their nodes and their neighbours. */
import type { DisplacementGrid } from './displacement.ts';

const SWEEPS = 24;

/**
 * Solves, by Gauss-Seidel, in place, at each node i for its displacement u:
 *
 *   S (u - start) + pull u + stiffness (sum over neighbours of u - u_j) = r
 *
 * @param sums six a node: xx, xy, yy of S, xr, yr of r, and one that is not read
 * @param bound no component goes beyond it [px]
 * @returns the largest change of a component [px]
 */
export function relaxField(
  sums: Float32Array,
  field: DisplacementGrid,
  stiffness: number,
  pulls: Float32Array,
  bound: number,
): number {
  const { columns, rows, dx, dy } = field;
  const startX = dx.slice();
  const startY = dy.slice();
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    for (let row = 0, i = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++, i++) {
        let nx = 0;
        let ny = 0;
        let own = pulls[i]!;
        if (column > 0) {
          nx += dx[i - 1]!;
          ny += dy[i - 1]!;
          own += stiffness;
        }
        if (column + 1 < columns) {
          nx += dx[i + 1]!;
          ny += dy[i + 1]!;
          own += stiffness;
        }
        if (row > 0) {
          nx += dx[i - columns]!;
          ny += dy[i - columns]!;
          own += stiffness;
        }
        if (row + 1 < rows) {
          nx += dx[i + columns]!;
          ny += dy[i + columns]!;
          own += stiffness;
        }
        const at = i * 6;
        const xx = sums[at]!;
        const xy = sums[at + 1]!;
        const yy = sums[at + 2]!;
        const rx = sums[at + 3]! + xx * startX[i]! + xy * startY[i]! + stiffness * nx;
        const ry = sums[at + 4]! + xy * startX[i]! + yy * startY[i]! + stiffness * ny;
        const determinant = (xx + own) * (yy + own) - xy * xy;
        if (!(determinant > 0)) continue;
        dx[i] = Math.min(bound, Math.max(-bound, ((yy + own) * rx - xy * ry) / determinant));
        dy[i] = Math.min(bound, Math.max(-bound, ((xx + own) * ry - xy * rx) / determinant));
      }
    }
  }
  let change = 0;
  for (let i = 0; i < dx.length; i++) {
    change = Math.max(change, Math.abs(dx[i]! - startX[i]!), Math.abs(dy[i]! - startY[i]!));
  }
  return change;
}
