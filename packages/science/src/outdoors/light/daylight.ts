/** Daylight on the level by the IES whole-sky equations, and how bright twilight is. */
import { requireInRange, requireInteger } from '../../domain-error.ts';

/** The three skies of the method: cover 0 to 0.3, 0.4 to 0.7, 0.8 to 1. */
export type IesSky = 'clear' | 'partlyCloudy' | 'cloudy';

const iesSkies: Record<IesSky, { A: number; B: number; C: number; c: number | null }> = {
  clear: { A: 0.8, B: 15.5, C: 0.5, c: 0.21 },
  partlyCloudy: { A: 0.3, B: 45, C: 1, c: 0.8 },
  cloudy: { A: 0.3, B: 21, C: 1, c: null },
};

const degree = Math.PI / 180;

function checkedAltitude(sunAltitudeDeg: number): number {
  return requireInRange('sunAltitudeDeg', sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: -90,
    max: 90,
  });
}

/**
 * Illuminance of the sun outside the air, on a plane facing it.
 *
 *   E_xt = 127.5 [1 + 0.034 cos(2 pi (J - 2)/365)] klx
 *
 * @param dayOfYear J, 1 to 366
 * @returns [lx]
 * @throws DomainError outside the range
 * @source IES 1984, J. IES 13(4), 381
 */
export function extraterrestrialIlluminanceLux(dayOfYear: number): number {
  const J = requireInteger('dayOfYear', dayOfYear, { what: 'a day of the year', min: 1, max: 366 });
  return 127_500 * (1 + 0.034 * Math.cos((2 * Math.PI * (J - 2)) / 365));
}

/** Daylight of a standard sky, in parts [lx]. */
export interface IesDaylight {
  /** From the whole sky, on the level. */
  readonly diffuseLux: number;
  /** From the sun, on a plane facing it. */
  readonly directNormalLux: number;
  /** From both, on the level. */
  readonly globalLux: number;
}

/**
 * Daylight of a standard sky.
 *
 *   E_d = A + B (sin a)^C klx;  E_dn = E_xt exp(-c / sin a);  E_g = E_d + E_dn sin a
 *
 * Long-run means: an instant may be half or twice as bright. At and below the horizon the sun adds nothing and the
 * sky keeps its value at the horizon; for twilight see `clearTwilightLux`. Partly cloudy coefficients are from memory.
 *
 * @param sunAltitudeDeg a [°], -90 to 90
 * @param dayOfYear J, 1 to 366
 * @throws DomainError outside the ranges
 * @source IES 1984, J. IES 13(4), 381; whole-sky form after Gillette, Pierpoint and Treado 1984
 */
export function iesDaylight(sunAltitudeDeg: number, dayOfYear: number, sky: IesSky): IesDaylight {
  const sinA = Math.max(0, Math.sin(checkedAltitude(sunAltitudeDeg) * degree));
  const { A, B, C, c } = iesSkies[sky];
  const diffuseLux = 1000 * (A + B * sinA ** C);
  const directNormalLux =
    c === null || sinA === 0 ? 0 : extraterrestrialIlluminanceLux(dayOfYear) * Math.exp(-c / sinA);
  return { diffuseLux, directNormalLux, globalLux: diffuseLux + directNormalLux * sinA };
}

/** log10 E [lx] = a + b x + c x^2 + d x^3, x = altitude / 90°, from an altitude upward. */
const twilightPieces: readonly { fromDeg: number; abcd: readonly [number, number, number, number] }[] = [
  { fromDeg: -0.8, abcd: [2.88, 22.26, -207.64, 1034.3] },
  { fromDeg: -5, abcd: [2.88, 21.81, -258.11, -858.36] },
  { fromDeg: -12, abcd: [2.7, 12.17, -431.69, -1899.83] },
  { fromDeg: -18, abcd: [13.84, 262.72, 1447.42, 2797.93] },
];

/** Where `clearTwilightLux` ends upward [°]. */
export const twilightFitTopDeg = 5;

/**
 * Illuminance on the level under a clear sky with the sun low or down.
 *
 * Below -18° the value there stands: that of a clear night without a moon. The pieces meet within 1 %.
 *
 * @param sunAltitudeDeg geometric [°], -90 to 5
 * @returns [lx], above 0
 * @throws DomainError outside the range
 * @source Seidelmann (ed.) 1992, Explanatory Supplement to the Astronomical Almanac, section 9.33; coefficients from
 *   memory, checked against the commonly printed 3.4, 0.008 and 0.0006 lx at the ends of the three twilights
 */
export function clearTwilightLux(sunAltitudeDeg: number): number {
  const h = requireInRange('sunAltitudeDeg', sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: -90,
    max: twilightFitTopDeg,
  });
  const x = Math.max(h, -18) / 90;
  const piece = twilightPieces.find(({ fromDeg }) => h >= fromDeg) ?? twilightPieces[3]!;
  const [a, b, c, d] = piece.abcd;
  return 10 ** (a + x * (b + x * (c + x * d)));
}

/**
 * Exposure value at ISO 100 of incident light: EV = log2(E S / C), S = 100, C = 250 (flat receptor).
 *
 * @param illuminanceLux E [lx], above 0
 * @returns EV [stops]
 * @throws DomainError outside the range
 * @source ISO 2720; the constant from memory
 */
export function exposureValueOfLux(illuminanceLux: number): number {
  const E = requireInRange('illuminanceLux', illuminanceLux, {
    what: 'an illuminance',
    unit: 'lx',
    min: 0,
    minExclusive: true,
  });
  return Math.log2((E * 100) / 250);
}
