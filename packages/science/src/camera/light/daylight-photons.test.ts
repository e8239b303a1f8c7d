import { describe, expect, it } from 'vitest';
import { DAYLIGHT_PHOTONS_PER_UM2_LUX_S, photonsPerUm2LuxS } from './photons.ts';

/** CIE tables at 400, 410, ... 700 nm, from memory: photopic V, and the three vectors of the D illuminants (CIE 15). */
const V = [
  0.000396, 0.00121, 0.004, 0.0116, 0.023, 0.038, 0.06, 0.09098, 0.13902, 0.20802, 0.323, 0.503, 0.71, 0.862,
  0.954, 0.99495, 0.995, 0.952, 0.87, 0.757, 0.631, 0.503, 0.381, 0.265, 0.175, 0.107, 0.061, 0.032, 0.017,
  0.00821, 0.004102,
];
const S0 = [
  94.8, 104.8, 105.9, 96.8, 113.9, 125.6, 125.5, 121.3, 121.3, 113.5, 113.1, 110.8, 106.5, 108.8, 105.3,
  104.4, 100, 96, 95.1, 89.1, 90.5, 90.3, 88.4, 84, 85.1, 81.9, 82.6, 84.9, 81.3, 71.9, 74.3,
];
const S1 = [
  43.4, 46.3, 43.9, 37.1, 36.7, 35.9, 32.6, 27.9, 24.3, 20.1, 16.2, 13.2, 8.6, 6.1, 4.2, 1.9, 0, -1.6, -3.5,
  -3.5, -5.8, -7.2, -8.6, -9.5, -10.9, -10.7, -12, -14, -13.6, -12, -13.3,
];
const S2 = [
  -1.1, -0.5, -0.7, -1.2, -2.6, -2.9, -2.8, -2.6, -2.6, -1.8, -1.5, -1.3, -1.2, -1, -0.5, -0.3, 0, 0.2, 0.5,
  2.1, 3.2, 4.1, 4.7, 5.1, 6.7, 7.3, 8.6, 9.8, 10.2, 8.3, 9.6,
];
const nm = V.map((_, i) => 400 + 10 * i);

/** Photons over light: the integral of S lambda/(h c) over 683 times that of S V, trapezoid. */
function photonsOf(spectrum: readonly number[]): number {
  const whole = (values: readonly number[]): number =>
    values.reduce((sum, value, i) => sum + (i === 0 || i === values.length - 1 ? value / 2 : value), 0);
  // photonsPerUm2LuxS counts photons at 555 nm; they rise with the wavelength.
  const per555 = photonsPerUm2LuxS(555);
  return (
    (per555 * whole(spectrum.map((s, i) => (s * nm[i]!) / 555))) / whole(spectrum.map((s, i) => s * V[i]!))
  );
}

function daylight(cct: number): readonly number[] {
  const T = (cct * 1.4388) / 1.438;
  const x =
    T <= 7000
      ? -4.607e9 / T ** 3 + 2.9678e6 / T ** 2 + 99.11 / T + 0.244063
      : -2.0064e9 / T ** 3 + 1.9018e6 / T ** 2 + 247.48 / T + 0.23704;
  const y = -3 * x * x + 2.87 * x - 0.275;
  const M = 0.0241 + 0.2562 * x - 0.7341 * y;
  const M1 = (-1.3515 - 1.7703 * x + 5.9114 * y) / M;
  const M2 = (0.03 - 31.4424 * x + 30.0717 * y) / M;
  return S0.map((s, i) => s + M1 * S1[i]! + M2 * S2[i]!);
}

describe('daylight to photons', () => {
  it('OI E-20, E-21: D55, D65, D75 and CIE A, 400 to 700 nm, by tables of 10 nm: within 40 (0.4 %)', () => {
    const rows = [
      [5500, 10_753],
      [6500, 10_880],
      [7500, 11_062],
    ] as const;
    for (const [cct, expected] of rows) {
      expect(Math.abs(photonsOf(daylight(cct)) - expected)).toBeLessThan(40);
    }
    const planck = nm.map((l) => 1 / (l ** 5 * (Math.exp(1.4388e7 / (2856 * l)) - 1)));
    expect(Math.abs(photonsOf(planck) - 12_032)).toBeLessThan(40);
  });

  it('the one figure in use lies within 3 % of all three daylights', () => {
    for (const cct of [5500, 6500, 7500]) {
      expect(Math.abs(DAYLIGHT_PHOTONS_PER_UM2_LUX_S / photonsOf(daylight(cct)) - 1)).toBeLessThan(0.03);
    }
  });
});
