/** The colour of daylight, as a temperature and as chromaticity. */
import { DomainError, requireInRange } from '../../domain-error.ts';

/** Chromaticity, CIE 1931 x and y. */
export interface Chromaticity {
  readonly x: number;
  readonly y: number;
}

/**
 * Chromaticity of daylight of a colour temperature.
 *
 *   x = -4.6070e9/T^3 + 2.9678e6/T^2 + 99.11/T + 0.244063      4000 to 7000 K
 *   x = -2.0064e9/T^3 + 1.9018e6/T^2 + 247.48/T + 0.237040     above
 *   y = -3 x^2 + 2.87 x - 0.275
 *
 * @param temperatureK T [K], 4000 to 25000
 * @throws DomainError outside the range
 * @source CIE 15:2004, section 3.1, daylight locus
 */
export function daylightChromaticity(temperatureK: number): Chromaticity {
  const T = requireInRange('temperatureK', temperatureK, {
    what: 'a colour temperature',
    unit: 'K',
    min: 4000,
    max: 25_000,
  });
  const x =
    T <= 7000
      ? -4.607e9 / T ** 3 + 2.9678e6 / T ** 2 + 99.11 / T + 0.244063
      : -2.0064e9 / T ** 3 + 1.9018e6 / T ** 2 + 247.48 / T + 0.23704;
  return { x, y: -3 * x * x + 2.87 * x - 0.275 };
}

/**
 * Correlated colour temperature of a chromaticity near the locus of black bodies.
 *
 *   n = (x - 0.3320) / (0.1858 - y);  T = 449 n^3 + 3525 n^2 + 6823.3 n + 5520.33
 *
 * @returns [K]
 * @throws DomainError if y is 0.1858 or a value is not between 0 and 1
 * @source McCamy 1992, Color Res. Appl. 17, 142
 */
export function colourTemperatureMcCamy1992({ x, y }: Chromaticity): number {
  requireInRange('x', x, { min: 0, max: 1 });
  requireInRange('y', y, { min: 0, max: 1 });
  if (y === 0.1858) throw new DomainError('outOfRange', 'a value other than 0.1858', 'y', y);
  const n = (x - 0.332) / (0.1858 - y);
  return 449 * n ** 3 + 3525 * n ** 2 + 6823.3 * n + 5520.33;
}
