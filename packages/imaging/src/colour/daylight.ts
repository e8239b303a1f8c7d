/** Daylight by its colour temperature, and the temperature of a white. */
import { requireInRange } from '@tepal/science';
import type { Chromaticity } from './white.ts';

/**
 * Chromaticity of a phase of daylight, the CIE's locus.
 *
 * @param temperatureK correlated colour temperature [K], 4,000 to 25,000
 * @throws DomainError outside that range
 * @source CIE 15:2004, 3.1 (OI 8.2); D65 is at 6,504 K on today's scale of temperature
 */
export function daylightChromaticity(temperatureK: number): Chromaticity {
  const T = requireInRange('temperatureK', temperatureK, {
    what: 'a daylight temperature',
    unit: 'K',
    min: 4000,
    max: 25_000,
  });
  const x =
    T <= 7000
      ? -4.607e9 / T ** 3 + 2.9678e6 / T ** 2 + 0.09911e3 / T + 0.244063
      : -2.0064e9 / T ** 3 + 1.9018e6 / T ** 2 + 0.24748e3 / T + 0.23704;
  return { x, y: -3 * x * x + 2.87 * x - 0.275 };
}

/**
 * Correlated colour temperature of a white, by a cubic [K].
 *
 * Good from about 2,000 to 12,500 K; for the blue of open shade use `temperatureHernandez1999`.
 *
 * @source McCamy 1992, Color Research and Application 17, 142 (OI 8.2)
 */
export function temperatureMcCamy1992({ x, y }: Chromaticity): number {
  const n = (x - 0.332) / (y - 0.1858);
  return -449 * n ** 3 + 3525 * n ** 2 - 6823.3 * n + 5520.33;
}

/**
 * Correlated colour temperature of skylight [K], made for 3,000 to 50,000 K; below 3,000 K it is not valid.
 *
 * @source Hernández-Andrés, Lee and Romero 1999, Applied Optics 38, 5703 (its first row of constants; from memory,
 * checked against OI C-12)
 */
export function temperatureHernandez1999({ x, y }: Chromaticity): number {
  const n = (x - 0.3366) / (y - 0.1735);
  return (
    -949.86315 +
    6253.80338 * Math.exp(-n / 0.92159) +
    28.70599 * Math.exp(-n / 0.20039) +
    0.00004 * Math.exp(-n / 0.07125)
  );
}

/** Difference of two colour temperatures in mired, the unit in which equal steps look alike: 10⁶ / T. */
export function miredShift(fromK: number, toK: number): number {
  return 1e6 / toK - 1e6 / fromK;
}
