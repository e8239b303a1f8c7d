/** How much air the light of the sun passes, against the zenith at sea level. */
import { requireInRange } from '../../domain-error.ts';

const zenithAngle = { what: 'a zenith angle', unit: 'degrees', min: 0, max: 90 };
const degree = Math.PI / 180;

/**
 * Relative optical air mass.
 *
 *   m = 1 / (cos z + 0.50572 (96.07995 - z)^-1.6364)
 *
 * @param apparentZenithDeg zenith angle as seen [°], 0 to 90
 * @returns air mass [1], 1 at the zenith, about 38 at the horizon
 * @throws DomainError outside the range
 * @source Kasten and Young 1989, Applied Optics 28, 4735
 */
export function airMassKastenYoung1989(apparentZenithDeg: number): number {
  const z = requireInRange('apparentZenithDeg', apparentZenithDeg, zenithAngle);
  return 1 / (Math.cos(z * degree) + 0.50572 * (96.07995 - z) ** -1.6364);
}

/**
 * Relative optical air mass, the older formula, which the sky model of Perez 1990 was fitted with.
 *
 *   m = 1 / (cos z + 0.15 (93.885 - z)^-1.253)
 *
 * @param apparentZenithDeg zenith angle as seen [°], 0 to 90
 * @returns air mass [1]
 * @throws DomainError outside the range
 * @source Kasten 1966, Arch. Meteorol. Geophys. Bioklimatol. B 14, 206
 */
export function airMassKasten1966(apparentZenithDeg: number): number {
  const z = requireInRange('apparentZenithDeg', apparentZenithDeg, zenithAngle);
  return 1 / (Math.cos(z * degree) + 0.15 * (93.885 - z) ** -1.253);
}
