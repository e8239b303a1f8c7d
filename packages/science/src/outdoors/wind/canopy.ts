/** Mean wind inside a stand of herbs. */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';
import { vonKarman, type Roughness } from './profile.ts';

/**
 * Extinction of the wind inside stands, as measured; 1 to 3 spans most herbs. From memory of Cionco 1978 (Boundary-
 * Layer Meteorol. 15, 81): oats, wheat, maize, rice, sunflower. `meadow` is ours, between them.
 */
export const windExtinction = {
  oats: 2.8,
  wheat: 2.45,
  maize: 1.97,
  rice: 1.62,
  sunflower: 1.32,
  meadow: 2,
} as const;

/**
 * Mean wind inside a stand over the wind at its top.
 *
 *   u(z)/uh = exp[a (z/h - 1)]
 *
 * Assumes leaf spread evenly over the height; sparse stands and bare stems let more wind through near the ground.
 *
 * @param at.heightM z above ground [m], 0 to h
 * @param at.vegetationHeightM h [m], above 0
 * @param at.extinction a [1], at least 0; 1 to 3 for herbs
 * @returns factor [1], 0 to 1
 * @throws DomainError outside the ranges
 * @source Inoue 1963; Cionco 1965, J. Appl. Meteorol. 4, 517
 */
export function windInsideCanopyFactor(at: {
  readonly heightM: number;
  readonly vegetationHeightM: number;
  readonly extinction: number;
}): number {
  const h = requirePositive('vegetationHeightM', at.vegetationHeightM, 'm');
  const z = requireInRange('heightM', at.heightM, { what: 'a height', unit: 'm', min: 0, max: h });
  const a = requireNotNegative('extinction', at.extinction);
  return Math.exp(a * (z / h - 1));
}

/**
 * Extinction of the wind in a stand from how much leaf it carries.
 *
 *   a = sqrt(cd L h / (2 lm iw))      lm = 0.32 (h - d) / ln((h - d) / z0), cd = 0.2, iw = 0.5
 *
 * @param stand.vegetationHeightM h [m], above 0
 * @param stand.plantAreaIndex L [1], above 0
 * @param ground d and z0 of the stand [m], d + z0 below h
 * @returns a [1]
 * @throws DomainError outside the ranges
 * @source Goudriaan 1977; Campbell and Norman 1998, eq. 5.7
 */
export function extinctionGoudriaan1977(
  stand: { readonly vegetationHeightM: number; readonly plantAreaIndex: number },
  ground: Roughness,
): number {
  const h = requirePositive('vegetationHeightM', stand.vegetationHeightM, 'm');
  const L = requirePositive('plantAreaIndex', stand.plantAreaIndex);
  const d = requireInRange('displacementM', ground.displacementM, { unit: 'm', min: 0, max: h });
  const clear = requirePositive('h - d', h - d, 'm');
  const z0 = requireInRange('roughnessLengthM', ground.roughnessLengthM, {
    unit: 'm',
    min: 0,
    minExclusive: true,
    max: clear,
    maxExclusive: true,
  });
  const lm = (0.32 * clear) / Math.log(clear / z0);
  return Math.sqrt((0.2 * L * h) / (2 * lm * 0.5));
}

/**
 * Wind at the top of a stand over the friction velocity above it, in the roughness sublayer.
 *
 *   Uh/u* = [ln((h - d) / z0) + 0.193] / k
 *
 * @source Raupach 1994
 */
export function topSpeedOverFriction(vegetationHeightM: number, ground: Roughness): number {
  const clear = requirePositive('h - d', vegetationHeightM - ground.displacementM, 'm');
  return (
    (Math.log(clear / requirePositive('roughnessLengthM', ground.roughnessLengthM, 'm')) + 0.193) / vonKarman
  );
}
