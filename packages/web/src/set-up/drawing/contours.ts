/** Lines of equal height through a grid, by marching squares: linear along each edge, no guess beyond the grid. */

export type Grid = readonly (readonly number[])[];

/**
 * The line where the grid has a height, as the path of an SVG.
 *
 * @param grid rows of heights; every row as long as the first
 * @param level the height
 * @param place.x where a column is drawn, fractions allowed [px]
 * @param place.y where a row is drawn, fractions allowed [px]
 * @returns one stroke for each cell that the line crosses; '' where it crosses none
 */
export function contourPath(
  grid: Grid,
  level: number,
  place: { x(column: number): number; y(row: number): number },
): string {
  let path = '';
  for (let row = 0; row + 1 < grid.length; row++) {
    const columns = grid[row]?.length ?? 0;
    for (let column = 0; column + 1 < columns; column++) {
      for (const [from, to] of crossings(grid, level, row, column)) {
        path += `M${place.x(from.x).toFixed(1)} ${place.y(from.y).toFixed(1)}L${place.x(to.x).toFixed(1)} ${place.y(to.y).toFixed(1)}`;
      }
    }
  }
  return path;
}

interface At {
  readonly x: number;
  readonly y: number;
}

function crossings(grid: Grid, level: number, row: number, column: number): readonly (readonly [At, At])[] {
  const height = (dr: number, dc: number) => grid[row + dr]?.[column + dc] ?? Number.NaN;
  const corners = [height(0, 0), height(0, 1), height(1, 1), height(1, 0)];
  const places: readonly At[] = [
    { x: column, y: row },
    { x: column + 1, y: row },
    { x: column + 1, y: row + 1 },
    { x: column, y: row + 1 },
  ];
  const points: At[] = [];
  for (let edge = 0; edge < 4; edge++) {
    const [a, b] = [corners[edge], corners[(edge + 1) % 4]];
    const [p, q] = [places[edge], places[(edge + 1) % 4]];
    if (a === undefined || b === undefined || p === undefined || q === undefined) continue;
    // Half-open, so that a corner exactly at the level belongs to one side.
    if (a < level === b < level) continue;
    const share = (level - a) / (b - a);
    points.push({ x: p.x + (q.x - p.x) * share, y: p.y + (q.y - p.y) * share });
  }
  const [first, second, third, fourth] = points;
  if (first === undefined || second === undefined) return [];
  if (third === undefined || fourth === undefined) return [[first, second]];
  // A saddle: the height in the middle says which corners belong together.
  const middle = corners.reduce((sum, one) => sum + one, 0) / 4;
  const firstCornerLow = (corners[0] ?? 0) < level;
  return middle < level === firstCornerLow
    ? [
        [first, second],
        [third, fourth],
      ]
    : [
        [first, fourth],
        [second, third],
      ];
}

/**
 * Where a line crosses a column, from the top.
 *
 * @returns the row, fractions allowed; null where it does not cross
 */
export function crossingInColumn(grid: Grid, level: number, column: number): number | null {
  const heights = grid.map((row) => row[column] ?? Number.NaN);
  return crossing(heights, level);
}

/** Where a line leaves the last column, from the top; null where it does not. */
export function crossingAtRight(grid: Grid, level: number): number | null {
  return crossingInColumn(grid, level, (grid[0]?.length ?? 0) - 1);
}

function crossing(heights: readonly number[], level: number): number | null {
  for (let at = 0; at + 1 < heights.length; at++) {
    const [a, b] = [heights[at], heights[at + 1]];
    if (a === undefined || b === undefined || a < level === b < level) continue;
    return at + (level - a) / (b - a);
  }
  return null;
}
