/** Whether a place stands above or below the ground about it. */
import { requireElevationGrid, heightAtNode, type ElevationGrid, type GridPlace } from './elevation-grid.ts';
import { requireInteger } from '../../domain-error.ts';

/**
 * Topographic position: height less the mean of the neighbours, the place itself left out. Above 0 on crests, below
 * 0 in hollows.
 *
 * @param radius neighbours on each side, 1 for a window of 3 by 3
 * @returns [m]; null where the place is a void or no neighbour is known
 * @throws DomainError if the grid or the radius is out of range
 * @source Weiss 2001, Topographic position and landforms analysis (FS 10)
 */
export function topographicPositionM(grid: ElevationGrid, place: GridPlace, radius: number): number | null {
  requireElevationGrid(grid);
  requireInteger('radius', radius, { min: 1, max: 200 });
  const [column, row] = [Math.round(place.column), Math.round(place.row)];
  const height = heightAtNode(grid, column, row);
  if (height === null) return null;
  let sum = 0;
  let count = 0;
  for (let down = -radius; down <= radius; down += 1) {
    for (let right = -radius; right <= radius; right += 1) {
      const neighbour = down === 0 && right === 0 ? null : heightAtNode(grid, column + right, row + down);
      if (neighbour === null) continue;
      sum += neighbour;
      count += 1;
    }
  }
  return count === 0 ? null : height - sum / count;
}
