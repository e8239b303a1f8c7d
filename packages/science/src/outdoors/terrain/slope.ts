/** Slope and aspect of the ground, and how the sun falls on it. */
import { requireFinite, requireInRange, requirePositive } from '../../domain-error.ts';
import { heightAtNode, type ElevationGrid, type GridPlace } from './elevation-grid.ts';

const degree = Math.PI / 180;

/** Nine heights [m], row by row from the north-west: a b c / d e f / g h i. */
export type HeightWindow = readonly [number, number, number, number, number, number, number, number, number];

export interface Slope {
  /** Rise towards the east [1]. */
  readonly eastGradient: number;
  /** Rise towards the south [1]. */
  readonly southGradient: number;
  /** Steepness [°], 0 to 90. */
  readonly slopeDeg: number;
  /** Where the ground falls to, from north, clockwise [°, 0 to 360); null where it is level. */
  readonly aspectDeg: number | null;
}

/**
 * Slope and aspect by the weighted differences of the eight neighbours.
 *
 *   p = ((c + 2f + i) - (a + 2d + g)) / 8s      q = ((g + 2h + i) - (a + 2b + c)) / 8s
 *   slope = atan sqrt(p² + q²)                  aspect downslope, from north
 *
 * Other authors weigh otherwise and give other slopes for the same window: not to be mixed.
 *
 * @param heights a to i [m], north up
 * @param cell.eastM s between columns, cell.northM s between rows [m], > 0
 * @throws DomainError if a number is out of range
 * @source Horn 1981, Hill shading and the reflectance map, Proc. IEEE 69, 14-47 (FS 10)
 */
export function slopeHorn1981(
  heights: HeightWindow,
  cell: { readonly eastM: number; readonly northM: number },
): Slope {
  heights.forEach((height, i) => requireFinite(`heights[${i}]`, height, 'm'));
  const [a, b, c, d, , f, g, h, i] = heights;
  const p = (c + 2 * f + i - (a + 2 * d + g)) / (8 * requirePositive('eastM', cell.eastM, 'm'));
  const q = (g + 2 * h + i - (a + 2 * b + c)) / (8 * requirePositive('northM', cell.northM, 'm'));
  const steep = Math.hypot(p, q);
  // Downslope is (-p) to the east and (q) to the north, q being the rise towards the south.
  const aspect = Math.atan2(-p, q) / degree;
  return {
    eastGradient: p,
    southGradient: q,
    slopeDeg: Math.atan(steep) / degree,
    aspectDeg: steep === 0 ? null : (aspect + 360) % 360,
  };
}

/**
 * Slope and aspect at the node nearest to a point, the aspect from true north.
 *
 * @returns null where the node or one of its eight neighbours is a void or outside the grid
 */
export function slopeOfTerrain(grid: ElevationGrid, place: GridPlace): Slope | null {
  const [column, row] = [Math.round(place.column), Math.round(place.row)];
  const heights = [-1, 0, 1].flatMap((down) =>
    [-1, 0, 1].map((right) => heightAtNode(grid, column + right, row + down)),
  );
  if (heights.some((height) => height === null)) return null;
  const found = slopeHorn1981(heights as unknown as HeightWindow, {
    eastM: grid.cellEastM,
    northM: grid.cellNorthM,
  });
  const { aspectDeg } = found;
  return { ...found, aspectDeg: aspectDeg === null ? null : (aspectDeg - grid.northDeg + 720) % 360 };
}

/**
 * Cosine of the angle between the sun's rays and the normal of the ground: the share of the direct beam that it gets.
 *
 *   cos i = cos S sin h + sin S cos h cos(A - aspect)      h sun's altitude, A its azimuth, S slope
 *
 * @param ground.slopeDeg S [°], 0 to 90
 * @param ground.aspectDeg downslope, from north, clockwise [°]
 * @param sun.altitudeDeg h [°], -90 to 90
 * @param sun.azimuthDeg A, from north, clockwise [°]
 * @returns -1 to 1; at or below 0 the ground shades itself
 * @throws DomainError if a number is out of range
 * @source spherical trigonometry (FS 10)
 */
export function incidenceCosine(
  ground: { readonly slopeDeg: number; readonly aspectDeg: number },
  sun: { readonly altitudeDeg: number; readonly azimuthDeg: number },
): number {
  const S = requireInRange('slopeDeg', ground.slopeDeg, { unit: 'degrees', min: 0, max: 90 }) * degree;
  const h = requireInRange('altitudeDeg', sun.altitudeDeg, { unit: 'degrees', min: -90, max: 90 }) * degree;
  const turn = requireFinite('azimuthDeg', sun.azimuthDeg) - requireFinite('aspectDeg', ground.aspectDeg);
  return Math.cos(S) * Math.sin(h) + Math.sin(S) * Math.cos(h) * Math.cos(turn * degree);
}
