/** Mean wind against height above open ground and above vegetation. */
import { DomainError, requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';

/** Von Kármán's constant, k. FAO-56 uses 0.41; ratios of the log law do not depend on it. */
export const vonKarman = 0.4;

/** What the wind feels of a surface. */
export interface Roughness {
  /** Displacement height d [m], at least 0. */
  readonly displacementM: number;
  /** Roughness length z0 [m], above 0. */
  readonly roughnessLengthM: number;
}

/**
 * Displacement and roughness of a stand from its height: d = 2/3 h, z0 = 0.123 h.
 *
 * @param vegetationHeightM h [m], above 0, at most 60
 * @throws DomainError outside the range
 * @source Allen et al. 1998, FAO-56, eq. 4 and box 4
 */
export function roughnessOfVegetation(vegetationHeightM: number): Roughness {
  const h = requireInRange('vegetationHeightM', vegetationHeightM, {
    what: 'a height',
    unit: 'm',
    min: 0,
    minExclusive: true,
    max: 60,
  });
  return { displacementM: (2 / 3) * h, roughnessLengthM: 0.123 * h };
}

/**
 * Displacement and roughness of a stand from how much leaf it carries.
 *
 *   d/h = 1 - (1 - exp(-s)) / s        s = sqrt(7.5 L)
 *   u* / Uh = min(sqrt(0.003 + 0.3 L / 2), 0.3)
 *   z0/h = (1 - d/h) exp(-k Uh/u* + 0.193)
 *
 * The sign of 0.193 is +, which alone agrees with Uh = (u* / k) [ln((h - d)/z0) + 0.193].
 *
 * @param stand.vegetationHeightM h [m], above 0
 * @param stand.plantAreaIndex L, plant area over ground area [1], above 0
 * @returns d and z0 [m], and u* / Uh [1]
 * @throws DomainError outside the ranges
 * @source Raupach 1994, Boundary-Layer Meteorol. 71, 211
 */
export function roughnessRaupach1994(stand: {
  readonly vegetationHeightM: number;
  readonly plantAreaIndex: number;
}): Roughness & { readonly frictionOverTopSpeed: number } {
  const h = requirePositive('vegetationHeightM', stand.vegetationHeightM, 'm');
  const L = requirePositive('plantAreaIndex', stand.plantAreaIndex);
  const s = Math.sqrt(7.5 * L);
  const d = 1 - (1 - Math.exp(-s)) / s;
  const frictionOverTopSpeed = Math.min(Math.sqrt(0.003 + (0.3 * L) / 2), 0.3);
  const z0 = (1 - d) * Math.exp(-vonKarman / frictionOverTopSpeed + 0.193);
  return { displacementM: d * h, roughnessLengthM: z0 * h, frictionOverTopSpeed };
}

/**
 * Ratio of the mean wind at two heights, by the neutral logarithmic profile.
 *
 *   u(z)/u(zr) = ln((z - d) / z0) / ln((zr - d) / z0)
 *
 * Neutral air, long even fetch. 0 where z is at or below d + z0: no mean wind there in this model. Not valid inside a
 * stand: there use `windInsideCanopyFactor`.
 *
 * @param heights.heightM z above ground [m], at least 0
 * @param heights.referenceHeightM zr above ground [m], above d + z0
 * @returns ratio [1], at least 0
 * @throws DomainError outside the ranges, or if the reference lies within the roughness
 * @source FAO-56 eq. 47 is this with h = 0.12 m and z = 2 m; WMO-No. 8
 */
export function logProfileFactor(
  heights: { readonly heightM: number; readonly referenceHeightM: number },
  ground: Roughness,
): number {
  const z = requireNotNegative('heightM', heights.heightM, 'm');
  const d = requireNotNegative('displacementM', ground.displacementM, 'm');
  const z0 = requirePositive('roughnessLengthM', ground.roughnessLengthM, 'm');
  const zr = requirePositive('referenceHeightM', heights.referenceHeightM, 'm');
  if (!(zr > d + z0)) {
    throw new DomainError('outOfRange', `a height in m above ${d + z0} (d + z0)`, 'referenceHeightM', zr);
  }
  if (z <= d + z0) return 0;
  return Math.log((z - d) / z0) / Math.log((zr - d) / z0);
}

/**
 * Wind at 2 m over clipped grass from the wind at another height.
 *
 *   u2 = uz 4.87 / ln(67.8 z - 5.42)
 *
 * @param heightM z [m], above 0.15
 * @returns factor on uz [1]
 * @throws DomainError outside the range
 * @source Allen et al. 1998, FAO-56, eq. 47
 */
export function fao56FactorTo2m(heightM: number): number {
  const z = requireInRange('heightM', heightM, {
    what: 'a height',
    unit: 'm',
    min: 0.15,
    minExclusive: true,
  });
  return 4.87 / Math.log(67.8 * z - 5.42);
}

/** Height where the wind no longer feels one field from the next [m]. Wieringa 1986. */
export const blendingHeightM = 60;

/**
 * Wind at the blending height over the wind at the forecast's height, over the forecast's own ground.
 *
 *   Ub / U10 = ln(60 / z0) / ln(10 / z0)
 *
 * @param from.forecastHeightM [m]
 * @param from.forecastRoughnessM z0 of the forecast model or the mast [m]; 0.03 for open grass
 * @returns factor [1], above 1
 * @throws DomainError outside the ranges
 * @source Wieringa 1986, Q. J. R. Meteorol. Soc. 112, 867
 */
export function blendingFactor(from: {
  readonly forecastHeightM: number;
  readonly forecastRoughnessM: number;
}): number {
  const heights = { heightM: blendingHeightM, referenceHeightM: from.forecastHeightM };
  return logProfileFactor(heights, { displacementM: 0, roughnessLengthM: from.forecastRoughnessM });
}
