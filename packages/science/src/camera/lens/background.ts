/** The disc that a point outside the plane of focus makes on the sensor. */
import { DomainError, requireFinite, requireNotNegative } from '../../domain-error.ts';
import { requireLensSetting, type LensSetting } from './setting.ts';

/**
 * Entrance pupil to the plane of focus: u_E = f (1/m + 1/P).
 *
 * @returns distance [mm]
 * @throws DomainError
 * @source van Walree, Derivation of the DOF equations
 */
export function entrancePupilToFocusMm(lens: LensSetting): number {
  const { focalLengthMm: f, magnification: m, pupilMagnification: P } = requireLensSetting(lens);
  return f * (1 / m + 1 / P);
}

/**
 * Diameter of the blur disc of a point behind the plane of focus: b = (f m / N) x / (u_E + x). A negative x lies
 * in front, where b = (f m / N) |x| / (u_E - |x|).
 *
 * @param behindMm x [mm], above -u_E: a point cannot lie in the entrance pupil
 * @returns b on the sensor [mm]
 * @throws DomainError
 * @source Merklinger 1992, The INs and OUTs of FOCUS (from memory), by way of OI 1.4
 */
export function blurDiscMm(lens: LensSetting, behindMm: number): number {
  const uE = entrancePupilToFocusMm(lens);
  const x = requireFinite('behindMm', behindMm, 'mm');
  if (!(x > -uE)) throw new DomainError('outOfRange', `a distance in mm above ${-uE}`, 'behindMm', x);
  return blurDiscAtInfinityMm(lens) * (Math.abs(x) / (uE + x));
}

/** The disc of a point at infinity: f m / N, the entrance pupil times the magnification [mm]. @throws DomainError */
export function blurDiscAtInfinityMm(lens: LensSetting): number {
  const { focalLengthMm: f, magnification: m, fNumber: N } = requireLensSetting(lens);
  return (f * m) / N;
}

/**
 * Disc of a point near the plane of focus, b = m^2 |x| / Ne: `blurDiscMm` to first order in x/u_E.
 *
 * @param effectiveFNumberValue Ne [1], > 0
 * @param offsetMm |x| [mm], >= 0
 * @returns b on the sensor [mm]
 * @throws DomainError
 */
export function blurDiscNearFocusMm(
  magnification: number,
  effectiveFNumberValue: number,
  offsetMm: number,
): number {
  return (magnification ** 2 * requireNotNegative('offsetMm', offsetMm, 'mm')) / effectiveFNumberValue;
}
