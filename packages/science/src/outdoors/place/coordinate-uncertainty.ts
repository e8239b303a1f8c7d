/** How far from the truth a coordinate may lie, by the point-radius method. */
import { requireInRange, requirePositive } from '../../domain-error.ts';

const degree = Math.PI / 180;
/** WGS84. */
const semiMajorM = 6_378_137;
const eccentricitySquared = 0.00669437999014;

/** North-south and east-west size of a step in degrees, and its diagonal. */
export interface StepOnGround {
  readonly northM: number;
  readonly eastM: number;
  readonly diagonalM: number;
}

/**
 * What a step in degrees is on the ground.
 *
 *   dlat = p M(phi), dlon = p N(phi) cos phi      radii of curvature M, N of WGS84, p in rad
 *
 * The diagonal is the uncertainty of a coordinate given to that step and referred to a corner; half of it when it is
 * referred to the cell's centre.
 *
 * @param stepDeg p [°], above 0
 * @param latitudeDeg phi [°], -90 to 90
 * @returns [m]
 * @throws DomainError outside the ranges
 * @source Wieczorek, Guo and Hijmans 2004; Chapman and Wieczorek 2020, Georeferencing Best Practices
 */
export function stepOnGround(stepDeg: number, latitudeDeg: number): StepOnGround {
  const step = { what: 'a step', unit: 'degrees', min: 0, minExclusive: true, max: 180 };
  const p = requireInRange('stepDeg', stepDeg, step) * degree;
  const latitude = { what: 'a latitude', unit: 'degrees', min: -90, max: 90 };
  const phi = requireInRange('latitudeDeg', latitudeDeg, latitude) * degree;
  const w = 1 - eccentricitySquared * Math.sin(phi) ** 2;
  const M = (semiMajorM * (1 - eccentricitySquared)) / w ** 1.5;
  const N = semiMajorM / Math.sqrt(w);
  const northM = p * M;
  const eastM = p * N * Math.max(0, Math.cos(phi));
  return { northM, eastM, diagonalM: Math.hypot(northM, eastM) };
}

/** Uncertainty of a grid square reported at its centre: half its diagonal [m]. @param sideM above 0 */
export function squareUncertaintyM(sideM: number): number {
  return requirePositive('sideM', sideM, 'm') / Math.SQRT2;
}

/**
 * Uncertainty from a direction given only in words: 2 d sin(angle/2).
 *
 * @param distanceM d from the named place [m]
 * @param headingUncertaintyDeg [°], 0 to 180; "north-east" leaves 22.5
 * @source Wieczorek, Guo and Hijmans 2004
 */
export function headingUncertaintyM(distanceM: number, headingUncertaintyDeg: number): number {
  const angle = requireInRange('headingUncertaintyDeg', headingUncertaintyDeg, {
    unit: 'degrees',
    min: 0,
    max: 180,
  });
  return 2 * requirePositive('distanceM', distanceM, 'm') * Math.sin((angle * degree) / 2);
}

/** Radius for about 95 % from a receiver's "accuracy", which is about a 50 % circle: twice it [m]. */
export function receiverUncertaintyM(accuracyM: number): number {
  return 2 * requirePositive('accuracyM', accuracyM, 'm');
}
