/** What focusing close does to the light and to diffraction. */
import { requireNotNegative, requirePositive } from '../../domain-error.ts';
import type { LensSetting } from './setting.ts';

/**
 * The f-number that governs exposure and diffraction when focused close.
 *
 *   Ne = N (1 + m / P)      N marked f-number, m magnification, P pupil magnification
 *
 * For a lens in air, mounted forward. Tends to `fNumber` as m goes to 0. Leaves out glass transmission,
 * and cameras that already display the effective value.
 *
 * @param lens.fNumber marked f-number [1], > 0
 * @param lens.magnification image size / subject size [1], >= 0
 * @param lens.pupilMagnification exit pupil / entrance pupil [1], > 0; 1 for a symmetric lens
 * @returns effective f-number [1], never below `fNumber`
 * @throws DomainError if an argument is out of range or not finite
 * @source Greivenkamp 2004, Field Guide to Geometrical Optics, working f-number
 */
export function effectiveFNumber(
  lens: Pick<LensSetting, 'fNumber' | 'magnification' | 'pupilMagnification'>,
): number {
  return (
    requirePositive('fNumber', lens.fNumber) *
    Math.sqrt(exposureFactor(lens.magnification, lens.pupilMagnification))
  );
}

/**
 * By how much longer the exposure must be than at infinity: k = (1 + m/P)^2. A meter behind the lens has seen it.
 *
 * @param magnification m [1], >= 0
 * @param pupilMagnification P [1], > 0
 * @returns k [1], >= 1
 * @throws DomainError
 * @source Langford, Advanced Photography; US Army subcourse SS0511, p. 73
 */
export function exposureFactor(magnification: number, pupilMagnification = 1): number {
  const m = requireNotNegative('magnification', magnification);
  const P = requirePositive('pupilMagnification', pupilMagnification);
  return (1 + m / P) ** 2;
}

/**
 * The light lost by focusing close, 2 log2(1 + m/P).
 *
 * @returns stops [1], >= 0
 * @throws DomainError
 */
export function lightLossStops(magnification: number, pupilMagnification = 1): number {
  return Math.log2(exposureFactor(magnification, pupilMagnification));
}

/**
 * The subject distance, in focal lengths, at which a symmetric lens loses a number of stops:
 * u/f = 1 + 1/(2^(s/2) - 1).
 *
 * @param stops s [1], > 0
 * @returns u/f [1], > 1
 * @throws DomainError
 */
export function focalLengthsAtLoss(stops: number): number {
  const s = requirePositive('stops', stops);
  return 1 + 1 / (2 ** (s / 2) - 1);
}
