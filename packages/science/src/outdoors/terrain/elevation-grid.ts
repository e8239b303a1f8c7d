/** Heights of the ground on a grid, and the height at any point of it. */
import { DomainError, requireInteger, requirePositive } from '../../domain-error.ts';

/** Heights above sea level, row by row from the north, each row from the west. */
export interface ElevationGrid {
  readonly columns: number;
  readonly rows: number;
  /** Distance between columns and between rows [m], > 0. */
  readonly cellEastM: number;
  readonly cellNorthM: number;
  /** columns × rows heights [m]; of a void, anything. */
  readonly heightsM: Float32Array;
  /** columns × rows; 1 where the height is not known. */
  readonly voids: Uint8Array;
  /** Bearing of true north on the grid, clockwise from its columns [°]; 0 where they run north. */
  readonly northDeg: number;
}

/** A point of the grid, in columns from the west and rows from the north; whole numbers are its nodes. */
export interface GridPlace {
  readonly column: number;
  readonly row: number;
}

/** Checks that a grid holds what it says. @throws DomainError */
export function requireElevationGrid(grid: ElevationGrid): void {
  const count =
    requireInteger('columns', grid.columns, { min: 1 }) * requireInteger('rows', grid.rows, { min: 1 });
  requirePositive('cellEastM', grid.cellEastM, 'm');
  requirePositive('cellNorthM', grid.cellNorthM, 'm');
  for (const [name, { length }] of [
    ['heightsM', grid.heightsM],
    ['voids', grid.voids],
  ] as const) {
    if (length !== count) throw new DomainError('outOfRange', `${count} values`, name, length);
  }
}

/** Height at a node [m]; null outside the grid and where it is a void. */
export function heightAtNode(grid: ElevationGrid, column: number, row: number): number | null {
  if (column < 0 || row < 0 || column >= grid.columns || row >= grid.rows) return null;
  const i = row * grid.columns + column;
  return grid.voids[i] === 1 ? null : (grid.heightsM[i] ?? null);
}

/** Height at any point [m], straight between the four nodes about it; null outside, and beside a void. */
export function heightBetween(grid: ElevationGrid, { column, row }: GridPlace): number | null {
  const [west, north] = [Math.floor(column), Math.floor(row)];
  const [x, y] = [column - west, row - north];
  const mix = (r: number): number | null => {
    const a = heightAtNode(grid, west, r);
    const b = x === 0 ? a : heightAtNode(grid, west + 1, r);
    return a === null || b === null ? null : a * (1 - x) + b * x;
  };
  const upper = mix(north);
  const lower = y === 0 ? upper : mix(north + 1);
  return upper === null || lower === null ? null : upper * (1 - y) + lower * y;
}
