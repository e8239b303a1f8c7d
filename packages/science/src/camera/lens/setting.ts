/** A lens as it is set: the four numbers on which every close-up equation rests. */
import { requirePositive } from '../../domain-error.ts';

/** A lens as set for one frame, in air, mounted forward. */
export interface LensSetting {
  /** Focal length at this focus setting [mm], > 0. */
  readonly focalLengthMm: number;
  /** Marked f-number, focal length / entrance pupil diameter [1], > 0. */
  readonly fNumber: number;
  /** Image size / subject size [1], > 0. */
  readonly magnification: number;
  /** Exit pupil diameter / entrance pupil diameter [1], > 0; 1 for a symmetric lens. */
  readonly pupilMagnification: number;
}

/** Passes a lens setting whose four numbers are finite and above 0. @throws DomainError */
export function requireLensSetting(lens: LensSetting): LensSetting {
  requirePositive('focalLengthMm', lens.focalLengthMm, 'mm');
  requirePositive('fNumber', lens.fNumber);
  requirePositive('magnification', lens.magnification);
  requirePositive('pupilMagnification', lens.pupilMagnification);
  return lens;
}
