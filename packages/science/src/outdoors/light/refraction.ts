/** How much the air lifts what is seen near the horizon. */
import { requireInRange } from '../../domain-error.ts';

/** Pressure and temperature of the air at the observer. */
export interface AirAtObserver {
  /** [hPa], above 0. */
  readonly pressureHpa: number;
  /** [°C], -100 to 60. */
  readonly temperatureC: number;
}

/** The air that the two formulas are written for: 1010 hPa, 10 °C. */
export const airOfRefractionTables: AirAtObserver = { pressureHpa: 1010, temperatureC: 10 };

/** Geometric altitude [°] below which no refraction is added: the formulas end there, and so does the light's path. */
export const lowestRefractedAltitudeDeg = -1;

const degree = Math.PI / 180;

function densityRatio(air: AirAtObserver): number {
  requireInRange('pressureHpa', air.pressureHpa, { what: 'a pressure', unit: 'hPa', min: 0, max: 1200 });
  requireInRange('temperatureC', air.temperatureC, { what: 'a temperature', unit: '°C', min: -100, max: 60 });
  return (air.pressureHpa / 1010) * (283 / (273 + air.temperatureC));
}

/**
 * Refraction for an apparent altitude.
 *
 *   R = 1 / tan(h0 + 7.31 / (h0 + 4.4))      h0 apparent altitude [°], R [arcmin]
 *
 * Near the horizon the real value varies by several arcminutes.
 *
 * @param apparentAltitudeDeg as seen [°], -1 to 90
 * @returns refraction [arcmin]; within 0.1' of zero at the zenith
 * @throws DomainError outside the range
 * @source Bennett 1982, J. Navigation 35, 255; Meeus 1998, eq. 16.3
 */
export function refractionBennett1982(
  apparentAltitudeDeg: number,
  air: AirAtObserver = airOfRefractionTables,
): number {
  const h0 = requireInRange('apparentAltitudeDeg', apparentAltitudeDeg, {
    what: 'an altitude',
    unit: 'degrees',
    min: lowestRefractedAltitudeDeg,
    max: 90,
  });
  return densityRatio(air) / Math.tan((h0 + 7.31 / (h0 + 4.4)) * degree);
}

/**
 * Refraction for a true (geometric) altitude.
 *
 *   R = 1.02 / tan(h + 10.3 / (h + 5.11))      h true altitude [°], R [arcmin]
 *
 * @param trueAltitudeDeg without refraction [°], -1 to 90
 * @returns refraction [arcmin]
 * @throws DomainError outside the range
 * @source Saemundsson 1986, Sky and Telescope 72, 70; Meeus 1998, eq. 16.4
 */
export function refractionSaemundsson1986(
  trueAltitudeDeg: number,
  air: AirAtObserver = airOfRefractionTables,
): number {
  const h = requireInRange('trueAltitudeDeg', trueAltitudeDeg, {
    what: 'an altitude',
    unit: 'degrees',
    min: lowestRefractedAltitudeDeg,
    max: 90,
  });
  return (densityRatio(air) * 1.02) / Math.tan((h + 10.3 / (h + 5.11)) * degree);
}
