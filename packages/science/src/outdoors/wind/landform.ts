/** How hills, ridges and steps in the ground speed the wind up. Not for light winds or stable dawn air. */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';
import { vonKarman } from './profile.ts';

/** A rise in the ground as EN 1991-1-4 describes it. */
export interface Rise {
  /** `ridge` (or hill): falls again beyond the crest; `cliff` (escarpment): stays up. */
  readonly form: 'ridge' | 'cliff';
  /** Height H of the rise [m], at least 0. */
  readonly heightM: number;
  /** Length of the upwind slope Lu [m], above 0. */
  readonly upwindLengthM: number;
  /** Length of the downwind slope Ld [m], above 0; not used for a cliff. */
  readonly downwindLengthM: number;
}

/**
 * Orography factor co: wind over a rise against wind over level ground, at the same height above ground.
 *
 *   Phi = H/Lu;  co = 1 for Phi < 0.05, 1 + 2 s Phi up to 0.3, 1 + 0.6 s above
 *
 * For strong, neutral wind across an isolated rise.
 *
 * @param at.fromCrestM x [m], negative upwind of the crest
 * @param at.heightM z above ground [m], at least 0
 * @returns co [1]; 1 outside the reach of the rise
 * @throws DomainError outside the ranges
 * @source EN 1991-1-4:2005, annex A.3, eqs A.1 to A.8
 */
export function orographyFactor(
  rise: Rise,
  at: { readonly fromCrestM: number; readonly heightM: number },
): number {
  const H = requireNotNegative('heightM', rise.heightM, 'm');
  const Lu = requirePositive('upwindLengthM', rise.upwindLengthM, 'm');
  const Phi = H / Lu;
  if (Phi < 0.05) return 1;
  const s = orographicLocation(rise, at);
  return Phi <= 0.3 ? 1 + 2 * s * Phi : 1 + 0.6 * s;
}

/**
 * Orographic location factor s of EN 1991-1-4 A.3; 0 outside the reach of the rise.
 *
 * @throws DomainError outside the ranges
 */
export function orographicLocation(
  rise: Rise,
  at: { readonly fromCrestM: number; readonly heightM: number },
): number {
  const x = requireInRange('fromCrestM', at.fromCrestM, { unit: 'm' });
  const z = requireNotNegative('heightM', at.heightM, 'm');
  const Lu = requirePositive('upwindLengthM', rise.upwindLengthM, 'm');
  const Le = rise.heightM / Lu <= 0.3 ? Lu : rise.heightM / 0.3;
  const r = z / Le;
  if (x <= 0) {
    if (x / Lu < -1.5 || r > 2) return 0;
    return crestFactor(r) * Math.exp((0.3542 * r * r - 1.0577 * r + 2.6456) * (x / Lu));
  }
  if (rise.form === 'ridge') {
    const Ld = requirePositive('downwindLengthM', rise.downwindLengthM, 'm');
    if (x / Ld > 2 || r > 2) return 0;
    return crestFactor(r) * Math.exp((-0.3056 * r * r + 1.0212 * r - 1.7637) * (x / Ld));
  }
  return behindCliff(x / Le, r);
}

function crestFactor(r: number): number {
  return 0.1552 * r ** 4 - 0.8575 * r ** 3 + 1.8133 * r ** 2 - 1.9115 * r + 1.0124;
}

function behindCliff(xOverLe: number, r: number): number {
  if (xOverLe > 3.5 || r > 2) return 0;
  // The fit begins at z/Le = 0.1; below it the value there stands.
  const q = Math.log10(Math.max(r, 0.1));
  const A = -1.342 * q ** 3 - 0.8222 * q ** 2 + 0.4609 * q - 0.0791;
  const B = -1.0196 * q ** 3 - 0.891 * q ** 2 + 0.5343 * q - 0.1156;
  const C = 0.803 * q ** 3 + 0.4236 * q ** 2 - 0.5738 * q + 0.1606;
  const fit = (share: number) => Math.max(0, A * Math.log10(share) ** 2 + B * Math.log10(share) + C);
  if (xOverLe >= 0.1) return fit(xOverLe);
  const crest = crestFactor(r);
  return crest + (fit(0.1) - crest) * (xOverLe / 0.1);
}

/** The forms that Taylor and Lee give numbers for. */
export type TaylorLeeForm = 'ridge' | 'escarpment' | 'hill';

const taylorLee: Record<TaylorLeeForm, { readonly steepness: number; readonly A: number }> = {
  ridge: { steepness: 2, A: 3 },
  escarpment: { steepness: 0.8, A: 2.5 },
  hill: { steepness: 1.6, A: 4 },
};

/**
 * Fractional speed-up at the crest of a low hill.
 *
 *   dS(z) = n (h/L) exp(-A z/L)
 *
 * Near-neutral wind above about 6 m/s, slopes up to about 0.3, scales up to about 1 km. In light wind or stable air
 * it does not hold. The constants are from memory.
 *
 * @param hill.heightM h [m], 0 to 0.5 L
 * @param hill.halfLengthM L, from the crest to where the ground is half as high [m], above 0
 * @param heightM z above ground [m], at least 0
 * @returns dS [1]: wind is (1 + dS) times the wind over level ground
 * @throws DomainError outside the ranges
 * @source Taylor and Lee 1984, Climatological Bulletin 18(2), 3
 */
export function speedUpTaylorLee1984(
  hill: { readonly form: TaylorLeeForm; readonly heightM: number; readonly halfLengthM: number },
  heightM: number,
): number {
  const L = requirePositive('halfLengthM', hill.halfLengthM, 'm');
  const h = requireInRange('heightM', hill.heightM, { what: 'a height', unit: 'm', min: 0, max: 0.5 * L });
  const z = requireNotNegative('heightM', heightM, 'm');
  const { steepness, A } = taylorLee[hill.form];
  return ((steepness * h) / L) * Math.exp((-A * z) / L);
}

/**
 * Depth of the layer over a hill in which turbulence keeps pace: l ln(l/z0) = 2 k^2 L.
 *
 * @param halfLengthM L [m], above 0
 * @param roughnessLengthM z0 [m], above 0
 * @returns l [m]
 * @throws DomainError outside the ranges
 * @source Jackson and Hunt 1975, Q. J. R. Meteorol. Soc. 101, 929
 */
export function innerLayerDepthM(halfLengthM: number, roughnessLengthM: number): number {
  const right = 2 * vonKarman ** 2 * requirePositive('halfLengthM', halfLengthM, 'm');
  const z0 = requirePositive('roughnessLengthM', roughnessLengthM, 'm');
  // With y = l/z0, y ln y rises steadily from 0 at y = 1; bisection between 1 and 1 + right/z0 + e always holds it.
  let low = 1;
  let high = Math.E + right / z0;
  for (let i = 0; i < 100; i++) {
    const y = (low + high) / 2;
    if (y * Math.log(y) * z0 < right) low = y;
    else high = y;
  }
  return ((low + high) / 2) * z0;
}
