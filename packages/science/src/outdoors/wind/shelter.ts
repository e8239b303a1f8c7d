/** How much wind a long hedge or fence takes away behind it. */
import { requireInRange, requirePositive, requireShare } from '../../domain-error.ts';
import { vonKarman } from './profile.ts';

/** A long barrier across the wind. */
export interface Barrier {
  /** h [m], above 0. */
  readonly heightM: number;
  /** Share of it that is open, P [0..1]; about 0.5 for a hedge in leaf. */
  readonly porosity: number;
}

/** A place behind a barrier. */
export interface BehindBarrier {
  /** x from the barrier [m], at least 5 h: nearer the air turns round, and the formulas do not hold. */
  readonly distanceM: number;
  /** z above ground [m], above 0. */
  readonly heightM: number;
  /** z0 of the ground around [m], above 0, below h. */
  readonly roughnessLengthM: number;
}

function checked(barrier: Barrier, at: BehindBarrier) {
  const h = requirePositive('heightM', barrier.heightM, 'm');
  const P = requireShare('porosity', barrier.porosity);
  const x = requireInRange('distanceM', at.distanceM, { what: 'a distance', unit: 'm', min: 5 * h });
  const z = requirePositive('heightM', at.heightM, 'm');
  const z0 = requireInRange('roughnessLengthM', at.roughnessLengthM, {
    unit: 'm',
    min: 0,
    minExclusive: true,
    max: h,
    maxExclusive: true,
  });
  return { h, P, x, z, z0 };
}

/** eta = (z/h) [(0.32 / ln(h/z0)) (x/h)]^-0.47, the height of the wake's similarity. Perera 1981. */
export function wakeHeightPerera1981(barrier: Barrier, at: BehindBarrier): number {
  const { h, x, z, z0 } = checked(barrier, at);
  return (z / h) * ((0.32 / Math.log(h / z0)) * (x / h)) ** -0.47;
}

/**
 * Share of the wind that a long barrier takes away.
 *
 *   du/u = 9.8 (h/z)^0.14 (h/x) (1 - P) eta exp(-0.67 eta^1.5)
 *
 * Wind straight across. Below what is measured behind dense hedges at 10 h and beyond: a cautious floor. The
 * constants are from memory; Taylor and Salmon's integral gives 9.75 for the 9.8.
 *
 * @returns du/u [0..1]
 * @throws DomainError outside the ranges, or nearer than 5 barrier heights
 * @source Perera 1981, J. Wind Eng. Ind. Aerodyn. 8, 93; Troen and Petersen 1989, European Wind Atlas
 */
export function shelterPerera1981(barrier: Barrier, at: BehindBarrier): number {
  const { h, P, x, z } = checked(barrier, at);
  const eta = wakeHeightPerera1981(barrier, at);
  const loss = 9.8 * (h / z) ** 0.14 * (h / x) * (1 - P) * eta * Math.exp(-0.67 * eta ** 1.5);
  return Math.min(1, loss);
}

/**
 * Share of the wind that a long barrier takes away, in the later form; about a fifth more than Perera's.
 *
 *   du/u = 12.1875 Ch (h/x) G ln((h + z0)/z0) / ln((z + z0)/z0)
 *   Ch = 0.8 (1 - P), G = c eta exp(-0.67 (c eta)^1.5), c = [ln((h + z0)/z0) / (2 k^2)]^(1/(n + 2)),
 *   eta = (z/h) (x/h)^(-1/(n + 2)), n = 1/7
 *
 * @returns du/u [0..1]
 * @throws DomainError outside the ranges, or nearer than 5 barrier heights
 * @source Taylor and Salmon 1993, J. Appl. Meteorol. 32, 858
 */
export function shelterTaylorSalmon1993(barrier: Barrier, at: BehindBarrier): number {
  const { h, P, x, z, z0 } = checked(barrier, at);
  const power = 1 / (1 / 7 + 2);
  const top = Math.log((h + z0) / z0);
  const c = (top / (2 * vonKarman ** 2)) ** power;
  const eta = (z / h) * (x / h) ** -power;
  const G = c * eta * Math.exp(-0.67 * (c * eta) ** 1.5);
  return Math.min(1, (12.1875 * 0.8 * (1 - P) * (h / x) * G * top) / Math.log((z + z0) / z0));
}
