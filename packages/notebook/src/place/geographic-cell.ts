/** The cell of a geographic grid in which a place lies. All places of a cell give the same answer to the last digit. */
import { DomainError } from '@tepal/science';

/** WGS84: semi-major axis [m] and first eccentricity squared. */
const A = 6_378_137;
const E2 = 0.006_694_379_990_14;

export interface GeographicCell {
  /** Middle of the cell [deg], with one decimal more than the step. */
  readonly centreLatitudeDeg: number;
  readonly centreLongitudeDeg: number;
  /** From the middle to the furthest corner on the ellipsoid [m], rounded up. */
  readonly uncertaintyM: number;
}

/**
 * The uncertainty that a coordinate precision stands for: the diagonal of p by p.
 *
 *   dlat = p M(phi)      dlon = p N(phi) cos phi      p in rad, M and N the radii of curvature
 *
 * @param latitudeDeg latitude phi [deg], -90 to 90
 * @param precisionDeg precision p [deg], > 0
 * @returns the diagonal [m]
 * @source Wieczorek, Guo & Hijmans 2004; Chapman & Wieczorek 2020; checked by FS G-10, G-11
 */
export function precisionDiagonalM(latitudeDeg: number, precisionDeg: number): number {
  const phi = (latitudeDeg * Math.PI) / 180;
  const p = (precisionDeg * Math.PI) / 180;
  const w = 1 - E2 * Math.sin(phi) ** 2;
  const M = (A * (1 - E2)) / w ** 1.5;
  const N = A / Math.sqrt(w);
  return Math.hypot(p * M, p * N * Math.cos(phi));
}

/**
 * The cell of a place.
 *
 * @param latitudeDeg [deg], -90 to 90; the pole itself belongs to the last cell
 * @param longitudeDeg [deg], -180 to 180
 * @param decimals step of the grid as decimals: 0 for 1 degree, 3 for 0.001 degree
 * @throws DomainError if an argument is out of range
 * @source Chapman 2020, Generalizing Sensitive Species Occurrence Data; FS G-18
 */
export function geographicCell(
  latitudeDeg: number,
  longitudeDeg: number,
  decimals: 0 | 1 | 2 | 3,
): GeographicCell {
  if (!(Math.abs(latitudeDeg) <= 90)) {
    throw new DomainError('outOfRange', 'a latitude from -90 to 90 degrees', 'latitudeDeg', latitudeDeg);
  }
  if (!(Math.abs(longitudeDeg) <= 180)) {
    throw new DomainError('outOfRange', 'a longitude from -180 to 180 degrees', 'longitudeDeg', longitudeDeg);
  }
  const perDegree = 10 ** decimals;
  const row = Math.min(cellNumber(latitudeDeg, perDegree), 90 * perDegree - 1);
  const column = Math.min(cellNumber(longitudeDeg, perDegree), 180 * perDegree - 1);
  // The edge nearer the equator is the wider one: its corners are the furthest from the middle.
  const equatorward = (row >= 0 ? row : row + 1) / perDegree;
  return {
    centreLatitudeDeg: Number(((row + 0.5) / perDegree).toFixed(decimals + 1)),
    centreLongitudeDeg: Number(((column + 0.5) / perDegree).toFixed(decimals + 1)),
    uncertaintyM: Math.ceil(precisionDiagonalM(equatorward, 1 / perDegree) / 2),
  };
}

/** floor(x / step), proof against 52.3 * 10 being 522.99…: what is an edge in nine decimals is an edge. */
function cellNumber(degrees: number, perDegree: number): number {
  return Math.floor(Number((degrees * perDegree).toFixed(9)));
}
