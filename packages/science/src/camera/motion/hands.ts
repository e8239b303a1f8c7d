/**
 * How far a camera is from standing still, by what it rests on. No table of hand-held rates that could be read is
 * published, and none for close-up translation: these are anchored where said and assumed elsewhere, to be replaced
 * by the photographer's own.
 */
import { requireInRange, requireNotNegative } from '../../domain-error.ts';
import { imageTravelPerRadianMm } from './streak.ts';
import type { LensSetting } from '../lens/setting.ts';

export const SUPPORTS = ['tripod', 'beanbag', 'elbows', 'kneeling', 'standing'] as const;
export type Support = (typeof SUPPORTS)[number];

/** Root mean square rates of a camera; each is the length of a vector across the view, both axes together. */
export interface CameraMotion {
  /** Rotation, yaw and pitch together [rad/s]. */
  readonly rotationRadS: number;
  /** Frequency that carries the rotation [Hz]. */
  readonly rotationHz: number;
  /** Pivot behind the entrance pupil [mm]. */
  readonly pivotBehindPupilMm: number;
  /** Translation, left-right and up-down together [mm/s]. */
  readonly translationMmS: number;
  /** Frequency that carries the translation [Hz]. */
  readonly translationHz: number;
  /** Standard deviation, fore and aft, of the plane of focus about the point at the moment of release [mm]. */
  readonly foreAndAftMm: number;
}

/**
 * ISO 20954-1:2019 rates hand-held blur at 63 µm for 1/f s, that is 0.063 rad/s whatever the lens; a wandering box
 * gave 0.067 (OI M-1, M-2). Assumption: nine in ten frames of a standing photographer pass that threshold, so for
 * normal rates on two axes its root mean square is 0.063/sqrt(ln 10).
 */
const STANDING_ROTATION_RAD_S = 0.063 / Math.sqrt(Math.LN10);

/** Hand and forearm tremor, about 4 Hz. @source Japanese Journal of Ergonomics 31(6), 1995, 399 */
const TREMOR_HZ = 4;

/** Trunk sway has 99 % of its power below 1.1 Hz. @source Front. Neurol. 9 (2018) 507; the value is assumed */
const BODY_SWAY_HZ = 0.6;

/**
 * By support. Standing: rotation as above, body sway of 6 mm/s and 3 mm fore and aft (order of magnitude, Prieto et
 * al. 1996 and Winter 1995, from memory). The ratios of the other supports to standing are assumptions, no source.
 */
export const SUPPORT_MOTION: Readonly<Record<Support, CameraMotion>> = {
  standing: motion(1, 6, 3),
  kneeling: motion(0.6, 3, 2),
  elbows: motion(0.4, 1.5, 1),
  beanbag: motion(0.1, 0.3, 0.2),
  tripod: motion(0.03, 0.03, 0.02),
};

/** Passes a camera motion whose numbers are finite and not negative. @throws DomainError */
export function requireCameraMotion(camera: CameraMotion): CameraMotion {
  requireNotNegative('rotationRadS', camera.rotationRadS, 'rad/s');
  requireNotNegative('rotationHz', camera.rotationHz, 'Hz');
  requireNotNegative('translationMmS', camera.translationMmS, 'mm/s');
  requireNotNegative('translationHz', camera.translationHz, 'Hz');
  requireNotNegative('foreAndAftMm', camera.foreAndAftMm, 'mm');
  return camera;
}

/**
 * The rotation that a stabiliser leaves: a rating of s stops divides it by 2^s, at infinity. Close up translation
 * counts, which it does not see, so what is left of the rating is s / (1 + m) (common practice, no source: "helps
 * less the closer you go").
 *
 * @param stops rated [1], 0 to 10
 * @param magnification m [1], >= 0
 * @returns factor on the rotation, 0 to 1
 * @throws DomainError
 */
export function stabilisedRotationFactor(stops: number, magnification: number): number {
  const s = requireInRange('stabilisationStops', stops, { what: 'a number of stops', min: 0, max: 10 });
  return 2 ** (-s / (1 + requireNotNegative('magnification', magnification)));
}

/** Root mean square image speed of the two parts, vector over both axes [mm/s on the sensor]. */
export interface ImageSpeeds {
  readonly rotationMmS: number;
  readonly translationMmS: number;
}

/** What a camera's motion does on the sensor. @throws DomainError */
export function imageSpeeds(
  lens: Pick<LensSetting, 'focalLengthMm' | 'magnification' | 'pupilMagnification'>,
  camera: CameraMotion,
  stabilisation = 0,
): ImageSpeeds {
  requireCameraMotion(camera);
  return {
    rotationMmS:
      camera.rotationRadS *
      stabilisedRotationFactor(stabilisation, lens.magnification) *
      imageTravelPerRadianMm(lens, camera.pivotBehindPupilMm),
    translationMmS: camera.translationMmS * lens.magnification,
  };
}

function motion(share: number, translationMmS: number, foreAndAftMm: number): CameraMotion {
  return {
    rotationRadS: share * STANDING_ROTATION_RAD_S,
    rotationHz: TREMOR_HZ,
    pivotBehindPupilMm: 0,
    translationMmS,
    translationHz: BODY_SWAY_HZ,
    foreAndAftMm,
  };
}
