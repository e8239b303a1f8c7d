/**
 * The place that a forecast is asked for: a coarse cell and a round altitude, never a site. Whoever makes one must
 * have released the place first; what comes out of here is coarse whatever goes in.
 */
import { cellOfPlace, requireInRange } from '@tepal/science';

/** Size of a cell [°]: some 11 km, as coarse as the finest global forecast is itself. */
export const FORECAST_CELL_DEG = 0.1;

/** Altitudes are rounded to this [m]: at 0.65 K in 100 m, good to 0.2 K. */
const ALTITUDE_STEP_M = 50;

declare const coarse: unique symbol;

/** Only `forecastCell` makes one; every request of a forecast takes nothing else. */
export interface ForecastCell {
  readonly [coarse]: true;
  /** Middle of the cell, two decimals [°]. */
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** To 50 m above sea level; null where not known. */
  readonly altitudeM: number | null;
}

/**
 * The cell that a place lies in.
 *
 * @param place WGS84 [°]; altitude above sea level [m], -500 to 9000, or null
 * @returns the cell's middle, the same for every place in it, so that requests cannot be averaged back
 * @throws DomainError if a number is out of range
 */
export function forecastCell(place: {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number | null;
}): ForecastCell {
  const { latitudeDeg, longitudeDeg } = cellOfPlace(place, FORECAST_CELL_DEG).centre;
  const altitudeM = place.altitudeM === null ? null : roundAltitude(place.altitudeM);
  return { latitudeDeg, longitudeDeg, altitudeM } as ForecastCell;
}

function roundAltitude(altitudeM: number): number {
  requireInRange('altitudeM', altitudeM, { what: 'an altitude', unit: 'm', min: -500, max: 9000 });
  return Math.round(altitudeM / ALTITUDE_STEP_M) * ALTITUDE_STEP_M + 0;
}
