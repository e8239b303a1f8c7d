/** ISO 12232: the exposure on the sensor, the speeds that follow from it, and how much noise a print bears. */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';

const DEGREE = Math.PI / 180;

/**
 * The lens constant q = (pi/4) T fv cos^4(theta); 0.65 for T 0.9, fv 0.98, theta 10 degrees.
 *
 * @param lens.transmittance T [0..1]
 * @param lens.vignettingFactor fv [0..1]
 * @param lens.fieldAngleDeg theta [degrees], 0 to below 90
 * @throws DomainError
 * @source ISO 12232:2006, by way of OI 2.3
 */
export function lensConstant(lens: {
  readonly transmittance: number;
  readonly vignettingFactor: number;
  readonly fieldAngleDeg: number;
}): number {
  const T = requireInRange('transmittance', lens.transmittance, { min: 0, max: 1 });
  const fv = requireInRange('vignettingFactor', lens.vignettingFactor, { min: 0, max: 1 });
  const theta = requireInRange('fieldAngleDeg', lens.fieldAngleDeg, { unit: 'degrees', min: 0, max: 89 });
  return (Math.PI / 4) * T * fv * Math.cos(theta * DEGREE) ** 4;
}

/** q of an ordinary lens: T 0.9, fv 0.98, 10 degrees off the axis. */
export const ORDINARY_LENS_CONSTANT = lensConstant({
  transmittance: 0.9,
  vignettingFactor: 0.98,
  fieldAngleDeg: 10,
});

/** A scene and a lens in ISO 12232's letters. */
export interface FocalPlaneInput {
  /** L [cd/m^2], > 0. */
  readonly luminance: number;
  /** A, marked f-number [1], > 0. */
  readonly fNumber: number;
  /** t [s], > 0. */
  readonly exposureTimeS: number;
  /** F [mm], > 0. */
  readonly focalLengthMm: number;
  /** i, image distance [mm], >= F. */
  readonly imageDistanceMm: number;
  /** H_f, flare [lx s], >= 0. */
  readonly flareLuxS: number;
}

/**
 * Focal-plane exposure H = q L t F^2 / (A^2 i^2) + H_f.
 *
 * @returns H [lx s]
 * @throws DomainError
 * @source ISO 12232:2006
 */
export function focalPlaneExposureLuxS(input: FocalPlaneInput, constant = ORDINARY_LENS_CONSTANT): number {
  const L = requirePositive('luminance', input.luminance, 'cd/m2');
  const A = requirePositive('fNumber', input.fNumber);
  const t = requirePositive('exposureTimeS', input.exposureTimeS, 's');
  const F = requirePositive('focalLengthMm', input.focalLengthMm, 'mm');
  const i = requirePositive('imageDistanceMm', input.imageDistanceMm, 'mm');
  return (
    (constant * L * t * F ** 2) / (A ** 2 * i ** 2) + requireNotNegative('flareLuxS', input.flareLuxS, 'lx s')
  );
}

/** Exposure index, or standard output sensitivity: 10 / H. @throws DomainError */
export function exposureIndex(exposureLuxS: number): number {
  return 10 / requirePositive('exposureLuxS', exposureLuxS, 'lx s');
}

/** Saturation speed 78 / H_sat; 78 leaves half a stop above a white reflector. @throws DomainError */
export function saturationSpeed(saturationExposureLuxS: number): number {
  return 78 / requirePositive('saturationExposureLuxS', saturationExposureLuxS, 'lx s');
}

/** Share of saturation that an exposure fills at a saturation speed: H S / 78. @throws DomainError */
export function saturationShare(exposureLuxS: number, iso: number): number {
  return (requireNotNegative('exposureLuxS', exposureLuxS, 'lx s') * requirePositive('iso', iso)) / 78;
}

/**
 * Exposure of the metered midtone: q K / S, 8.125 / S for q 0.65 and K 12.5.
 *
 * @returns H [lx s]
 * @throws DomainError
 * @source ISO 2720:1974 with ISO 12232's q, by way of OI 2.3
 */
export function midtoneExposureLuxS(iso: number): number {
  return 8.125 / requirePositive('iso', iso);
}

/** Signal to noise that ISO 12232 calls excellent and acceptable, at 70 sensor pixels per cm seen from 25 cm. */
export const EXCELLENT_SNR = 40;
export const ACCEPTABLE_SNR = 10;

/** Print density at which the two hold [pixels per degree]: 70 pixels/cm from 25 cm. */
const REFERENCE_PIXELS_PER_DEGREE = 70 * 25 * Math.tan(DEGREE);

/**
 * Sensor pixels under one degree of the viewer's eye.
 *
 * @param pixelsPerCm density of sensor pixels in the delivered picture [1/cm], > 0
 * @param viewingDistanceCm [cm], > 0
 * @throws DomainError
 */
export function pixelsPerDegree(pixelsPerCm: number, viewingDistanceCm: number): number {
  return (
    requirePositive('pixelsPerCm', pixelsPerCm, '1/cm') *
    requirePositive('viewingDistanceCm', viewingDistanceCm, 'cm') *
    Math.tan(DEGREE)
  );
}

/**
 * The signal to noise that a pixel needs for a delivery: ISO 12232's criterion scaled by density, as 70 over the
 * pixels per cm seen from 25 cm. Finer pixels are averaged by the eye and may each be noisier.
 *
 * @param criterionSnr at the standard's density, such as `EXCELLENT_SNR`
 * @returns signal to noise [1]
 * @throws DomainError
 * @source ISO 12232:2019, note 3
 */
export function snrForDelivery(criterionSnr: number, pixelsPerCm: number, viewingDistanceCm = 25): number {
  return (
    (requirePositive('criterionSnr', criterionSnr) * REFERENCE_PIXELS_PER_DEGREE) /
    pixelsPerDegree(pixelsPerCm, viewingDistanceCm)
  );
}
