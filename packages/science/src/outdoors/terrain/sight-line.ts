/** What is seen along a direction over the ground: the horizon, and the shelter that it gives. */
import { DomainError, requireFinite, requireNotNegative, requirePositive } from '../../domain-error.ts';
import type { HorizonProfile } from '../light/horizon.ts';
import { heightBetween, requireElevationGrid, type ElevationGrid, type GridPlace } from './elevation-grid.ts';

const degree = Math.PI / 180;
const EARTH_M = 6_371_000;
/** How much refraction bends a ray back, as a share of the Earth's curvature. */
const REFRACTION = 0.13;

/** A point of the ground along a direction. */
export interface SightPoint {
  /** From the observer [m], > 0. */
  readonly distanceM: number;
  /** Above the observer's ground [m]. */
  readonly heightM: number;
}

/**
 * How far curvature, less refraction, lowers the ground at a distance: (1 - k) x² / 2R.
 *
 * @param distanceM x [m], >= 0
 * @returns [m], >= 0
 * @throws DomainError if out of range
 * @source FS 10, k = 0.13, R = 6371 km
 */
export function curvatureDropM(distanceM: number): number {
  return ((1 - REFRACTION) * requireNotNegative('distanceM', distanceM, 'm') ** 2) / (2 * EARTH_M);
}

/**
 * Altitude of the horizon along a direction: max of atan((z - e - drop) / x).
 *
 * To be compared with the sun's apparent altitude: refraction near the ground is in it, that of the air is not.
 *
 * @param points at least one
 * @param eyeM e, height of eye or plant above the ground [m], >= 0
 * @returns [°]; below 0 where all ground lies lower than the eye
 * @throws DomainError if there is no point or a number is out of range
 * @source FS 10
 */
export function horizonAlongDeg(points: readonly SightPoint[], eyeM: number): number {
  requireNotNegative('eyeM', eyeM, 'm');
  return steepest(points, (x, z) => (z - eyeM - curvatureDropM(x)) / x);
}

/**
 * Shelter from the wind of a direction: the steepest view upwind within a distance, positive sheltered, negative
 * exposed.
 *
 *   Sx = max of atan((zv - zi) / distance), distance <= dmax
 *
 * @param points upwind, at least one within `farthestM`
 * @param farthestM dmax [m], > 0
 * @returns [°], -90 to 90
 * @throws DomainError if no point is near enough
 * @source Winstral, Elder and Davis 2002, J. Hydrometeorology 3, 524-538 (FS 10)
 */
export function shelterWinstral2002Deg(points: readonly SightPoint[], farthestM: number): number {
  requirePositive('farthestM', farthestM, 'm');
  return steepest(
    points.filter(({ distanceM }) => distanceM <= farthestM),
    (x, z) => z / x,
  );
}

function steepest(points: readonly SightPoint[], rise: (x: number, z: number) => number): number {
  if (points.length === 0) throw new DomainError('empty', 'at least one point', 'points', 0);
  const rises = points.map(({ distanceM, heightM }) =>
    rise(requirePositive('distanceM', distanceM, 'm'), requireFinite('heightM', heightM, 'm')),
  );
  return Math.atan(Math.max(...rises)) / degree;
}

/**
 * The ground along a direction, a point every cell, as far as the grid or a distance reaches. Voids are passed over:
 * nothing is made up for them.
 *
 * @param azimuthDeg from true north, clockwise [°]
 * @param farthestM [m], > 0
 * @returns points in order of distance; none where the place itself is a void or outside
 */
export function sightLine(
  grid: ElevationGrid,
  place: GridPlace,
  azimuthDeg: number,
  farthestM: number,
): readonly SightPoint[] {
  const ground = heightBetween(grid, place);
  if (ground === null) return [];
  const bearing = (azimuthDeg + grid.northDeg) * degree;
  const stepM = Math.min(grid.cellEastM, grid.cellNorthM);
  const [right, down] = [Math.sin(bearing) / grid.cellEastM, -Math.cos(bearing) / grid.cellNorthM];
  const points: SightPoint[] = [];
  for (let distanceM = stepM; distanceM <= farthestM; distanceM += stepM) {
    const at = { column: place.column + right * distanceM, row: place.row + down * distanceM };
    if (at.column < 0 || at.row < 0 || at.column > grid.columns - 1 || at.row > grid.rows - 1) break;
    const height = heightBetween(grid, at);
    if (height !== null) points.push({ distanceM, heightM: height - ground });
  }
  return points;
}

/**
 * The horizon that the terrain makes round a place, never below the level.
 *
 * @param options.eyeM height of eye or plant above the ground [m]
 * @param options.farthestM how far is looked [m]
 * @param options.directions evenly spaced from north, clockwise
 * @returns altitudes [°]; null where the place is a void or outside, or the grid ends beside it in every direction
 * @throws DomainError if the grid or an option is out of range
 */
export function horizonOfTerrain(
  grid: ElevationGrid,
  place: GridPlace,
  options: { readonly eyeM: number; readonly farthestM: number; readonly directions: number },
): HorizonProfile | null {
  requireElevationGrid(grid);
  const { eyeM, farthestM, directions } = options;
  requirePositive('farthestM', farthestM, 'm');
  const lines = Array.from({ length: directions }, (_, i) =>
    sightLine(grid, place, (i * 360) / directions, farthestM),
  );
  if (lines.every((line) => line.length === 0)) return null;
  return lines.map((line) => (line.length === 0 ? 0 : Math.max(0, horizonAlongDeg(line, eyeM))));
}

/**
 * Shelter round a place, each direction the mean of views within 15° of it.
 *
 * @param options.farthestM how far upwind counts [m]
 * @param options.directions evenly spaced from north, clockwise: the direction from which the wind comes
 * @returns [°] a direction; null where the terrain does not say
 */
export function shelterOfTerrain(
  grid: ElevationGrid,
  place: GridPlace,
  options: { readonly farthestM: number; readonly directions: number },
): readonly (number | null)[] {
  requireElevationGrid(grid);
  const { farthestM, directions } = options;
  return Array.from({ length: directions }, (_, i) => {
    const views = [-15, -10, -5, 0, 5, 10, 15].flatMap((turn) => {
      const line = sightLine(grid, place, (i * 360) / directions + turn, farthestM);
      return line.length === 0 ? [] : [shelterWinstral2002Deg(line, farthestM)];
    });
    return views.length === 0 ? null : views.reduce((sum, view) => sum + view, 0) / views.length;
  });
}
