/** A place made coarse: a cell of a grid in degrees, the same for every place in it. */
import { DomainError } from '../../domain-error.ts';
import { requireCoordinates } from '../place-on-earth.ts';
import { stepOnGround } from './coordinate-uncertainty.ts';
import type { Degrees } from './map-grid.ts';

/** Cell sizes [°] for extreme, high, medium and low sensitivity. Chapman 2020. */
export const generalisingStepsDeg = [1, 0.1, 0.01, 0.001] as const;
export type GeneralisingStep = (typeof generalisingStepsDeg)[number];

/** A cell of a grid in degrees. Every number is a function of the cell alone. */
export interface GridCell {
  readonly stepDeg: GeneralisingStep;
  readonly southDeg: number;
  readonly northDeg: number;
  readonly westDeg: number;
  readonly eastDeg: number;
  /** Centre, to one decimal more than the step. */
  readonly centre: Degrees;
  /** Half the cell's diagonal, rounded up to a metre [m]. */
  readonly uncertaintyM: number;
}

/**
 * The cell that a place lies in, by floor(x / step), so that cells about 0 behave like all others.
 *
 * A pure function of the cell: repeated records from one cell give one and the same point, and cannot be averaged
 * back. Nothing is random. A place at 90° N or 180° E belongs to the last cell.
 *
 * @param place WGS84 [°]
 * @param stepDeg 1, 0.1, 0.01 or 0.001
 * @throws DomainError if a coordinate is out of range, or another step is asked for
 * @source Chapman 2020, Current Best Practices for Generalizing Sensitive Species Occurrence Data
 */
export function cellOfPlace(place: Degrees, stepDeg: GeneralisingStep): GridCell {
  requireCoordinates(place);
  if (!generalisingStepsDeg.includes(stepDeg)) {
    throw new DomainError(
      'notOneOf',
      `one of ${generalisingStepsDeg.join(', ')} degrees`,
      'stepDeg',
      stepDeg,
    );
  }
  const decimals = generalisingStepsDeg.indexOf(stepDeg);
  const cellsPerDegree = 10 ** decimals;
  const row = Math.min(floorOf(place.latitudeDeg, cellsPerDegree), 90 * cellsPerDegree - 1);
  const column = Math.min(floorOf(place.longitudeDeg, cellsPerDegree), 180 * cellsPerDegree - 1);
  const edge = (index: number) => Number((index / cellsPerDegree).toFixed(decimals)) + 0;
  const middle = (index: number) => Number(((index + 0.5) / cellsPerDegree).toFixed(decimals + 1));
  const centre = { latitudeDeg: middle(row), longitudeDeg: middle(column) };
  return {
    stepDeg,
    southDeg: edge(row),
    northDeg: edge(row + 1),
    westDeg: edge(column),
    eastDeg: edge(column + 1),
    centre,
    uncertaintyM: Math.ceil(halfDiagonalM(stepDeg, row / cellsPerDegree)),
  };
}

/**
 * floor(x n), reading x as the decimal that it prints as: 52.3 times 1000 is 52299.999…, and 52.3 belongs to the cell
 * that begins there.
 */
function floorOf(valueDeg: number, cellsPerDegree: number): number {
  const scaled = valueDeg * cellsPerDegree;
  const nearest = Math.round(scaled);
  return Math.abs(scaled - nearest) <= 4 * Number.EPSILON * Math.abs(scaled) ? nearest : Math.floor(scaled);
}

/** The larger of either end's height and width decides, so that no corner lies outside the radius. */
function halfDiagonalM(stepDeg: number, southDeg: number): number {
  const south = stepOnGround(stepDeg, southDeg);
  const north = stepOnGround(stepDeg, Math.min(90, southDeg + stepDeg));
  return Math.hypot(Math.max(south.northM, north.northM), Math.max(south.eastM, north.eastM)) / 2;
}

/**
 * How much larger the area given away is than the true one: (Darwin Core pointRadiusSpatialFit).
 *
 * @returns given area over true area [1]
 */
export function spatialFit(givenAreaM2: number, trueAreaM2: number): number {
  if (!(givenAreaM2 > 0))
    throw new DomainError('outOfRange', 'an area in m² above 0', 'givenAreaM2', givenAreaM2);
  if (!(trueAreaM2 > 0))
    throw new DomainError('outOfRange', 'an area in m² above 0', 'trueAreaM2', trueAreaM2);
  return givenAreaM2 / trueAreaM2;
}
