/** Blur by plain motion: how the camera's and the subject's travel reach the sensor. */
import { requireNotNegative, requirePositive } from '../../domain-error.ts';
import type { LensSetting } from '../lens/setting.ts';

/** Rotation and translation of the camera across the view, and the subject's speed across it. */
export interface MotionRates {
  /** omega about the entrance pupil [rad/s], >= 0. */
  readonly rotationRadS: number;
  /** r, pivot behind the entrance pupil [mm], >= 0. */
  readonly pivotBehindPupilMm: number;
  /** v of the camera [mm/s], >= 0. */
  readonly cameraSpeedMmS: number;
  /** w of the subject [mm/s], >= 0. */
  readonly subjectSpeedMmS: number;
}

/**
 * Image motion per radian of camera rotation: f (1 + m/P) + m r.
 *
 * @returns [mm/rad]
 * @throws DomainError
 */
export function imageTravelPerRadianMm(
  lens: Pick<LensSetting, 'focalLengthMm' | 'magnification' | 'pupilMagnification'>,
  pivotBehindPupilMm: number,
): number {
  const f = requirePositive('focalLengthMm', lens.focalLengthMm, 'mm');
  const m = requireNotNegative('magnification', lens.magnification);
  const P = requirePositive('pupilMagnification', lens.pupilMagnification);
  return f * (1 + m / P) + m * requireNotNegative('pivotBehindPupilMm', pivotBehindPupilMm, 'mm');
}

/**
 * The longest time for a blur, everything moving one way: t = c / { omega [f (1 + m/P) + m r] + m (v + w) }.
 *
 * @param blurMm c on the sensor [mm], > 0
 * @returns a time [s], or the word that nothing moves
 * @throws DomainError
 */
export function longestTimeForBlur(
  lens: Pick<LensSetting, 'focalLengthMm' | 'magnification' | 'pupilMagnification'>,
  rates: MotionRates,
  blurMm: number,
): { readonly kind: 'time'; readonly seconds: number } | { readonly kind: 'unlimited' } {
  const rotation =
    requireNotNegative('rotationRadS', rates.rotationRadS, 'rad/s') *
    imageTravelPerRadianMm(lens, rates.pivotBehindPupilMm);
  const translation =
    requireNotNegative('cameraSpeedMmS', rates.cameraSpeedMmS, 'mm/s') +
    requireNotNegative('subjectSpeedMmS', rates.subjectSpeedMmS, 'mm/s');
  const speed = rotation + lens.magnification * translation;
  const c = requirePositive('blurMm', blurMm, 'mm');
  return speed > 0 ? { kind: 'time', seconds: c / speed } : { kind: 'unlimited' };
}

/** What a stabiliser is worth: the ratio of usable times [stops]. @throws DomainError @source ISO 20954-1:2019 */
export function stabilisationStops(timeWithS: number, timeWithoutS: number): number {
  return Math.log2(
    requirePositive('timeWithS', timeWithS, 's') / requirePositive('timeWithoutS', timeWithoutS, 's'),
  );
}

/** Speeds of a sinusoid a sin(2 pi F t). */
export interface SinusoidSpeeds {
  readonly peakMmS: number;
  readonly rmsMmS: number;
  readonly meanMmS: number;
}

/** Peak 2 pi F a, root mean square peak/sqrt2, mean 4 a F. @throws DomainError */
export function sinusoidSpeeds(amplitudeMm: number, frequencyHz: number): SinusoidSpeeds {
  const a = requireNotNegative('amplitudeMm', amplitudeMm, 'mm');
  const F = requireNotNegative('frequencyHz', frequencyHz, 'Hz');
  const peakMmS = 2 * Math.PI * F * a;
  return { peakMmS, rmsMmS: peakMmS / Math.SQRT2, meanMmS: 4 * a * F };
}

/**
 * The quiet moment: share of time that a sinusoid is slower than w, (2/pi) asin(w/peak), at the ends of its swing.
 *
 * @returns 0 to 1
 * @throws DomainError
 */
export function shareOfTimeSlower(speedMmS: number, peakMmS: number): number {
  const w = requireNotNegative('speedMmS', speedMmS, 'mm/s');
  const peak = requireNotNegative('peakMmS', peakMmS, 'mm/s');
  return w >= peak ? 1 : (2 / Math.PI) * Math.asin(w / peak);
}
