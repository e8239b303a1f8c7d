/** Wind from a direction against what stands in its way: ridges and edges, hedges and walls. */
import { requireInRange, requirePositive } from '../../domain-error.ts';
import { speedUpTaylorLee1984, type TaylorLeeForm } from './landform.ts';
import { shelterPerera1981, type Barrier } from './shelter.ts';

const degree = Math.PI / 180;
const bearing = { what: 'a bearing', unit: 'degrees from north', min: 0, max: 360 };

/** The steepest rise that Taylor and Lee's rule holds for, h/L. */
export const steepestRise = 0.5;

/**
 * Cosine of the angle between where the wind comes from and a bearing: 1 straight from it, -1 from behind it.
 *
 * @param windFromDeg where the wind comes FROM [°, 0 to 360], never where it blows to
 * @param bearingDeg [°, 0 to 360]
 * @throws DomainError outside the ranges
 */
export function windFromAlong(windFromDeg: number, bearingDeg: number): number {
  const from = requireInRange('windFromDeg', windFromDeg, bearing);
  return Math.cos((from - requireInRange('bearingDeg', bearingDeg, bearing)) * degree);
}

/**
 * Fractional speed-up on top of a rise for wind from a direction.
 *
 *   Taylor and Lee's rule with the slope that the wind sees: L / |cos delta| for L
 *
 * delta is the angle between the wind and the line straight across the rise. Along a ridge there is none; an edge
 * (escarpment) speeds up only wind that comes up it; a round hill speeds up any. The obliquity is ours, by geometry.
 * Rises steeper than h/L = 0.5 count as that steep.
 *
 * @param rise.upslopeDeg bearing straight across it, upslope [°]: from its foot to its top
 * @param heightAboveGroundM z at the plant [m], at least 0
 * @param windFromDeg [°, 0 to 360]
 * @returns dS [1], at least 0
 * @throws DomainError outside the ranges
 * @source Taylor and Lee 1984, Climatological Bulletin 18(2), 3
 */
export function speedUpInWind(
  rise: {
    readonly form: TaylorLeeForm;
    readonly heightM: number;
    readonly halfLengthM: number;
    readonly upslopeDeg: number;
  },
  heightAboveGroundM: number,
  windFromDeg: number,
): number {
  const up = -windFromAlong(windFromDeg, rise.upslopeDeg);
  const across = rise.form === 'hill' ? 1 : rise.form === 'ridge' ? Math.abs(up) : Math.max(0, up);
  if (across < 0.01) return 0;
  const halfLengthM = requirePositive('halfLengthM', rise.halfLengthM, 'm') / across;
  const heightM = Math.min(rise.heightM, steepestRise * halfLengthM);
  return speedUpTaylorLee1984({ form: rise.form, heightM, halfLengthM }, heightAboveGroundM);
}

/** A hedge, wall or wood's edge as it stands towards a plant. */
export interface BarrierAtPlant extends Barrier {
  /** From the plant straight to it [m], above 0. */
  readonly distanceM: number;
  /** In which direction it lies, from north, clockwise [°, 0 to 360]; it runs across that. */
  readonly bearingDeg: number;
  /** From the nearest point to its nearer end [m], above 0; null for long both ways. */
  readonly halfLengthM: number | null;
}

/** Heights within which the published fits do not reach: nearer counts as this far. Field minima lie at 4 to 6. */
export const nearestHeights = 5;

/**
 * Share of the wind that a barrier takes away for wind from a direction; 0 where the wind does not come over it.
 *
 *   Perera's fit with the way that the wind goes behind it: x / cos delta
 *
 * Wind at an angle has farther to go from the barrier to the plant, and past its end misses it; both are geometry and
 * ours. Nearer than five heights counts as five.
 *
 * @param at.heightM z above ground [m], above 0
 * @param at.roughnessLengthM z0 of the ground around [m], above 0, below the barrier's height
 * @param windFromDeg [°, 0 to 360]
 * @returns du/u [0..1]
 * @throws DomainError outside the ranges
 * @source Perera 1981; Troen and Petersen 1989
 */
export function shelterInWind(
  barrier: BarrierAtPlant,
  at: { readonly heightM: number; readonly roughnessLengthM: number },
  windFromDeg: number,
): number {
  const along = windFromAlong(windFromDeg, barrier.bearingDeg);
  if (along < 0.05) return 0;
  const distanceM = requirePositive('distanceM', barrier.distanceM, 'm');
  const sideways = distanceM * Math.sqrt(1 / (along * along) - 1);
  if (barrier.halfLengthM !== null && sideways > requirePositive('halfLengthM', barrier.halfLengthM, 'm'))
    return 0;
  return shelterPerera1981(barrier, {
    ...at,
    distanceM: Math.max(nearestHeights * barrier.heightM, distanceM / along),
  });
}
