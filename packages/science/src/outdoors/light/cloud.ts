/** What clouds leave of the sun's radiation. Means over years: an instant may differ by half. */
import { requireInRange, requireNotNegative, requireShare } from '../../domain-error.ts';

const degree = Math.PI / 180;

/**
 * Global radiation under a cloudless sky: G0 = 910 sin a - 30.
 *
 * @param sunAltitudeDeg a [°], -90 to 90
 * @returns [W/m²], at least 0: the formula ends at about 1.9°
 * @throws DomainError outside the range
 * @source Kasten and Czeplak 1980, Solar Energy 24, 177
 */
export function clearSkyRadiationKastenCzeplak1980(sunAltitudeDeg: number): number {
  const a = requireInRange('sunAltitudeDeg', sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: -90,
    max: 90,
  });
  return Math.max(0, 910 * Math.sin(a * degree) - 30);
}

/**
 * Global radiation under a cloudless sky, a second opinion: G0 = 1098 cos z exp(-0.057 / cos z).
 *
 * Printed with 0.057; a public library has 0.059, which at 60° gives 0.4 % less. Here it is as printed.
 *
 * @param sunAltitudeDeg 90 - z [°], -90 to 90
 * @returns [W/m²], 0 with the sun down
 * @throws DomainError outside the range
 * @source Haurwitz 1945, J. Meteorol. 2, 154
 */
export function clearSkyRadiationHaurwitz1945(sunAltitudeDeg: number): number {
  const a = requireInRange('sunAltitudeDeg', sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: -90,
    max: 90,
  });
  const cosZ = Math.sin(a * degree);
  return cosZ <= 0 ? 0 : 1098 * cosZ * Math.exp(-0.057 / cosZ);
}

/**
 * Share of the cloudless radiation that is left: G/G0 = 1 - 0.75 N^3.4.
 *
 * @param cloudShare N, sky covered [0..1]
 * @source Kasten and Czeplak 1980
 */
export function cloudTransmissionKastenCzeplak1980(cloudShare: number): number {
  return 1 - 0.75 * requireShare('cloudShare', cloudShare) ** 3.4;
}

/**
 * The cover that would leave a given share of the radiation: N = [(1 - T) / 0.75]^(1/3.4), at most 1.
 *
 * @param transmission T [0..1]
 * @source inverse of Kasten and Czeplak 1980
 */
export function coverOfTransmission(transmission: number): number {
  return Math.min(1, ((1 - requireShare('transmission', transmission)) / 0.75) ** (1 / 3.4));
}

/**
 * Diffuse share of the global radiation: D/G = s + (1 - s) N^2, s = 0.3 under a cloudless sky.
 *
 * @param cloudShare N [0..1]
 * @param cloudlessDiffuseShare s [0..1]; the paper's 0.3 is a mean over the day
 * @source Kasten and Czeplak 1980 (from memory)
 */
export function diffuseShareKastenCzeplak1980(cloudShare: number, cloudlessDiffuseShare: number): number {
  const s = requireShare('cloudlessDiffuseShare', cloudlessDiffuseShare);
  return s + (1 - s) * requireShare('cloudShare', cloudShare) ** 2;
}

/** Layers of cloud that have coefficients of their own. */
export type CloudLayer = 'thinHigh' | 'thickHigh' | 'middle' | 'lowSheet' | 'lowHeap';

/** c0 to c3 of T = c0 + c1 mu + c2 mu² + c3 mu³. Shapiro 1982, table 11. */
const shapiro1982: Record<CloudLayer, readonly [number, number, number, number]> = {
  thinHigh: [0.63547, 0.35229, 0.08709, -0.22902],
  thickHigh: [0.26458, 0.66829, 0.24228, -0.49357],
  middle: [0.19085, 0.32817, -0.08613, -0.08197],
  lowSheet: [0.1361, 0.29964, -0.14041, 0.00952],
  lowHeap: [0.1796, 0.34855, -0.14875, 0.01962],
};

/**
 * Share of the radiation that a closed layer of cloud lets through.
 *
 * @param cosZenith mu, cosine of the sun's zenith angle [0..1]
 * @returns T [0..1]
 * @throws DomainError outside the range
 * @source Shapiro 1982, AFGL-TR-82-0039, table 11
 */
export function layerTransmissionShapiro1982(layer: CloudLayer, cosZenith: number): number {
  const mu = requireShare('cosZenith', cosZenith);
  const [c0, c1, c2, c3] = shapiro1982[layer];
  return c0 + mu * (c1 + mu * (c2 + mu * c3));
}

/** Covers by layer, as a forecast gives them [0..1]. */
export interface LayeredCover {
  readonly low: number;
  readonly medium: number;
  readonly high: number;
}

/**
 * Share of the radiation that is left under three layers, each lying at random over the others: the product of
 * 1 - N (1 - T). Low cloud counts as a sheet (Sc, St), middle as As and Ac, high as thin Ci and Cs; the choice of
 * the layers' kinds is ours, since forecasts do not tell.
 *
 * @param cover covers [0..1]
 * @param cosZenith mu [0..1]
 * @returns [0..1]
 */
export function cloudTransmissionOfLayers(cover: LayeredCover, cosZenith: number): number {
  const left = (name: string, N: number, layer: CloudLayer) =>
    1 - requireShare(name, N) * (1 - layerTransmissionShapiro1982(layer, cosZenith));
  return (
    left('low', cover.low, 'lowSheet') *
    left('medium', cover.medium, 'middle') *
    left('high', cover.high, 'thinHigh')
  );
}

/**
 * Diffuse share of measured or forecast global radiation, from the clearness index.
 *
 * @param clearnessIndex kt = G / (I0 cos z) [1], at least 0
 * @returns D/G [0..1]
 * @throws DomainError outside the range
 * @source Erbs, Klein and Duffie 1982, Solar Energy 28, 293
 */
export function diffuseShareErbs1982(clearnessIndex: number): number {
  const kt = requireNotNegative('clearnessIndex', clearnessIndex);
  if (kt <= 0.22) return 1 - 0.09 * kt;
  if (kt > 0.8) return 0.165;
  return 0.9511 + kt * (-0.1604 + kt * (4.388 + kt * (-16.638 + kt * 12.336)));
}
