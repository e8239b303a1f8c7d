/** The contract's blur budget: one sigma per cause in µm on the sensor; variances add. */
import { DomainError, requireNotNegative } from '../../domain-error.ts';
import { blurDiscMm, entrancePupilToFocusMm } from '../lens/background.ts';
import type { FrameSetting, FrameVariances } from '../frames/frame-model.ts';

/** Sigma of a uniform pixel, or of a uniform streak along itself: length / sqrt12. @throws DomainError */
export function streakSigma(length: number): number {
  return requireNotNegative('length', length) / Math.sqrt(12);
}

/** Per-axis sigma of a uniform disc: diameter / 4. @throws DomainError */
export function discSigma(diameter: number): number {
  return requireNotNegative('diameter', diameter) / 4;
}

/** Independent causes in quadrature. @throws DomainError */
export function combinedSigma(sigmas: readonly number[]): number {
  return Math.sqrt(sigmas.reduce((sum, sigma) => sum + requireNotNegative('sigma', sigma) ** 2, 0));
}

/** Sigmas in µm on the sensor. */
export interface BlurBudget {
  readonly pixelUm: number;
  readonly diffractionUm: number;
  /** At the worst edge of the subject's depth, focus at mid-depth. */
  readonly defocusUm: number;
  /** Root mean square over phase. */
  readonly subjectMotionUm: number;
  /** Root mean square, both axes. */
  readonly cameraMotionUm: number;
  /** All of the above. */
  readonly totalUm: number;
  /** At the point of focus: no defocus of depth, the root mean square of focus placement instead. */
  readonly totalAtPointUm: number;
}

/**
 * The budget of a frame.
 *
 * @param frame as set
 * @param variances `frameVariances(frame)`
 * @param subjectDepthMm depth of the subject [mm], >= 0; its near half must lie before the entrance pupil
 * @throws DomainError
 */
export function blurBudget(
  frame: FrameSetting,
  variances: FrameVariances,
  subjectDepthMm: number,
): BlurBudget {
  const half = requireNotNegative('subjectDepthMm', subjectDepthMm, 'mm') / 2;
  const reach = entrancePupilToFocusMm(frame.lens);
  if (!(half < reach)) {
    throw new DomainError(
      'outOfRange',
      `a depth in mm below ${2 * reach}, twice the distance to the lens`,
      'subjectDepthMm',
      subjectDepthMm,
    );
  }
  const defocusUm = discSigma(1000 * blurDiscMm(frame.lens, -half));
  const subject = variances.subject.odd + variances.subject.even + variances.own;
  const camera = variances.camera.odd + variances.camera.even;
  const everywhere = variances.pixel + variances.diffraction + subject + camera;
  return {
    pixelUm: Math.sqrt(variances.pixel),
    diffractionUm: Math.sqrt(variances.diffraction),
    defocusUm,
    subjectMotionUm: Math.sqrt(subject),
    cameraMotionUm: Math.sqrt(camera),
    totalUm: Math.sqrt(everywhere + defocusUm ** 2),
    totalAtPointUm: Math.sqrt(everywhere + variances.focusPlacement),
  };
}
