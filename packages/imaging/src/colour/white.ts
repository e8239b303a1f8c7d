/** White points: chromaticities, their tristimulus values, and how one is adapted to another. */
import { requirePositive } from '@tepal/science';
import { apply, diagonal, invert, multiply, type Matrix3, type Triple } from './matrix.ts';

/** A chromaticity of CIE 1931. */
export interface Chromaticity {
  readonly x: number;
  readonly y: number;
}

/** The four-figure whites that colour spaces are defined with. */
export const D50: Chromaticity = { x: 0.3457, y: 0.3585 };
export const D65: Chromaticity = { x: 0.3127, y: 0.329 };

/** White of the profile connection space, as profiles store it. @source ICC.1:2022, 7.2.16 */
export const PROFILE_WHITE: Triple = [0.9642, 1, 0.8249];

/** Tristimulus values of a chromaticity, Y = 1. @throws DomainError unless y is positive */
export function xyzOfChromaticity({ x, y }: Chromaticity): Triple {
  requirePositive('y', y);
  return [x / y, 1, (1 - x - y) / y];
}

/** @returns x, y of tristimulus values; that of `D65` where they are all zero */
export function chromaticityOf([X, Y, Z]: Triple): Chromaticity {
  const sum = X + Y + Z;
  return sum === 0 ? D65 : { x: X / sum, y: Y / sum };
}

const BRADFORD: Matrix3 = [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296];

/**
 * Takes colours seen under one white to those that look the same under another, by the Bradford transform.
 *
 *   A = M⁻¹ diag(M w_to / M w_from) M
 *
 * @param from, to tristimulus values of the whites
 * @source Lam 1985; the matrix as in ICC.1:2022, annex E (OI 8.2)
 */
export function adaptation(from: Triple, to: Triple): Matrix3 {
  const f = apply(BRADFORD, from);
  const t = apply(BRADFORD, to);
  return multiply(invert(BRADFORD), multiply(diagonal([t[0] / f[0], t[1] / f[1], t[2] / f[2]]), BRADFORD));
}
