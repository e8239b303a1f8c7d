/** From radiation to light, by the state of the sky. */
import { requireInRange, requireInteger, requireNotNegative } from '../../domain-error.ts';
import { airMassKasten1966 } from './air-mass.ts';

/** Solar constant [W/m²]. */
export const solarConstantWm2 = 1361;

const binEdges = [1, 1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2];

interface Table {
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly c: readonly number[];
  readonly d: readonly number[];
}

/** Perez et al. 1990, table 4; a in lm/W, one column a bin. */
const diffuse: Table = {
  a: [97.24, 107.22, 104.97, 102.39, 100.71, 106.42, 141.88, 152.23],
  b: [-0.46, 1.15, 2.96, 5.59, 5.94, 3.83, 1.9, 0.35],
  c: [12, 0.59, -5.53, -13.95, -22.75, -36.15, -53.24, -45.27],
  d: [-8.91, -3.95, -8.77, -13.9, -23.74, -28.83, -14.03, -7.98],
};
const global: Table = {
  a: [96.63, 107.54, 98.73, 92.72, 86.73, 88.34, 78.63, 99.65],
  b: [-0.47, 0.79, 0.7, 0.56, 0.98, 1.39, 1.47, 1.86],
  c: [11.5, 1.79, 4.4, 8.36, 7.1, 6.06, 4.93, -4.46],
  d: [-9.16, -1.19, -6.95, -8.31, -10.94, -7.6, -11.37, -3.15],
};
/** c of the seventh bin is -1.26; -1.25 in one public program is a slip. */
const direct: Table = {
  a: [57.2, 98.99, 109.83, 110.34, 106.36, 107.19, 105.75, 101.18],
  b: [-4.55, -3.46, -4.9, -5.84, -3.97, -1.25, 0.77, 1.58],
  c: [-2.98, -1.21, -1.71, -1.99, -1.75, -1.51, -1.26, -1.1],
  d: [117.12, 12.38, -8.81, -4.56, -6.16, -26.73, -34.44, -8.29],
};

/** Light from radiation, with the two numbers that describe the sky. */
export interface PerezLight {
  /** Sky clearness epsilon [1], 1 overcast. */
  readonly clearness: number;
  /** Bin of `clearness`, 1 overcast to 8 clear. */
  readonly bin: number;
  /** Sky brightness Delta [1]. */
  readonly brightness: number;
  /** From the sky, on the level [lx]. */
  readonly diffuseLux: number;
  /** From sun and sky, on the level [lx]. */
  readonly globalLux: number;
  /** From the sun, on a plane facing it [lx]. */
  readonly directNormalLux: number;
}

/**
 * Illuminance from radiation.
 *
 *   eps = [(D + B)/D + 1.041 Z^3] / (1 + 1.041 Z^3);  Delta = D m / I0;  W = exp(0.07 Td - 0.075) cm
 *   E_d = D [a + b W + c cos Z + d ln Delta];  E_g alike with G;  E_bn = B [a + b W + c exp(5.73 Z - 5) + d Delta]
 *
 * @param sky.directNormalWm2 B, from the sun, on a plane facing it [W/m²], at least 0
 * @param sky.diffuseWm2 D, from the sky, on the level [W/m²], at least 0; 0 gives no light
 * @param sky.zenithDeg Z [°], 0 to 90
 * @param sky.dewPointC Td [°C], -60 to 40
 * @throws DomainError outside the ranges
 * @accuracy a few per cent in the mean over the cities of the paper
 * @source Perez et al. 1990, Solar Energy 44, 271, eqs 1 to 3 and 6 to 8, table 4; air mass Kasten 1966
 */
export function lightOfRadiationPerez1990(sky: {
  readonly directNormalWm2: number;
  readonly diffuseWm2: number;
  readonly zenithDeg: number;
  readonly dewPointC: number;
}): PerezLight {
  const B = requireNotNegative('directNormalWm2', sky.directNormalWm2, 'W/m²');
  const D = requireNotNegative('diffuseWm2', sky.diffuseWm2, 'W/m²');
  const zenith = { what: 'a zenith angle', unit: 'degrees', min: 0, max: 90 };
  const Z = (requireInRange('zenithDeg', sky.zenithDeg, zenith) * Math.PI) / 180;
  const dew = { what: 'a dew point', unit: '°C', min: -60, max: 40 };
  const W = Math.exp(0.07 * requireInRange('dewPointC', sky.dewPointC, dew) - 0.075);
  if (D === 0)
    return { clearness: 1, bin: 1, brightness: 0, diffuseLux: 0, globalLux: 0, directNormalLux: 0 };

  const k = 1.041 * Z ** 3;
  const eps = ((D + B) / D + k) / (1 + k);
  const bin = requireInteger('bin', binEdges.findLastIndex((edge) => eps >= edge - 1e-12) + 1, {
    min: 1,
    max: 8,
  });
  const Delta = (D * airMassKasten1966(sky.zenithDeg)) / solarConstantWm2;
  const G = D + B * Math.cos(Z);
  const efficacy = (table: Table, third: number, fourth: number) =>
    table.a[bin - 1]! + table.b[bin - 1]! * W + table.c[bin - 1]! * third + table.d[bin - 1]! * fourth;
  return {
    clearness: eps,
    bin,
    brightness: Delta,
    diffuseLux: Math.max(0, D * efficacy(diffuse, Math.cos(Z), Math.log(Delta))),
    globalLux: Math.max(0, G * efficacy(global, Math.cos(Z), Math.log(Delta))),
    directNormalLux: Math.max(0, B * efficacy(direct, Math.exp(5.73 * Z - 5), Delta)),
  };
}
