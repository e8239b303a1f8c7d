/** The aperture at which depth and diffraction balance, by the root-sum-square rule of discs. */
import { requirePositive } from '../../domain-error.ts';

/** Airy disc over wavelength and f-number in the rule's own rounding. */
const AIRY = 2.44;

/** The aperture of least blur for a depth, and the blur left. */
export interface BestAperture {
  /** Effective f-number Ne [1]. */
  readonly effectiveFNumber: number;
  /** Diameter of the blur at the ends of the depth [mm on the sensor]. */
  readonly totalBlurMm: number;
}

/**
 * Least blur at the ends of a depth centred on the plane of focus: Ne = m sqrt(T / (4.88 lambda)), leaving a blur of
 * m sqrt(2.44 lambda T). An engineering rule: discs are not Gaussians, and a product of MTFs can prefer an
 * aperture half a stop away.
 *
 * @param magnification m [1], > 0
 * @param depthMm T [mm], > 0
 * @param wavelengthUm lambda [µm], > 0
 * @throws DomainError
 * @source Hansma 1996, View camera focusing in practice, Photo Techniques, March/April
 */
export function apertureForDepth(magnification: number, depthMm: number, wavelengthUm: number): BestAperture {
  const m = requirePositive('magnification', magnification);
  const T = requirePositive('depthMm', depthMm, 'mm');
  const lambda = requirePositive('wavelengthUm', wavelengthUm, 'µm') / 1000;
  return {
    effectiveFNumber: m * Math.sqrt(T / (2 * AIRY * lambda)),
    totalBlurMm: m * Math.sqrt(AIRY * lambda * T),
  };
}

/**
 * The same from the travel of focus at the sensor: N = sqrt(375 dv), 375 per mm standing for 546 nm.
 *
 * @param focusTravelMm dv [mm], > 0
 * @returns f-number [1]
 * @throws DomainError
 * @source Hansma 1996; Luong, How to select the f-stop
 */
export function apertureForFocusTravel(focusTravelMm: number): number {
  return Math.sqrt(375 * requirePositive('focusTravelMm', focusTravelMm, 'mm'));
}

/**
 * Depth that stays within a total blur: T = 2 Ne sqrt(C^2 - (2.44 lambda Ne)^2) / m^2; 0 once the Airy disc alone
 * exceeds it.
 *
 * @param effectiveFNumberValue Ne [1], > 0
 * @param totalBlurMm C [mm on the sensor], > 0
 * @returns T [mm], >= 0
 * @throws DomainError
 * @source Peterson 1996, Image sharpness and focusing the view camera, Photo Techniques, March/April
 */
export function depthWithinBlurMm(
  magnification: number,
  effectiveFNumberValue: number,
  totalBlurMm: number,
  wavelengthUm: number,
): number {
  const m = requirePositive('magnification', magnification);
  const Ne = requirePositive('effectiveFNumberValue', effectiveFNumberValue);
  const C = requirePositive('totalBlurMm', totalBlurMm, 'mm');
  const airy = (AIRY * requirePositive('wavelengthUm', wavelengthUm, 'µm') * Ne) / 1000;
  return (2 * Ne * Math.sqrt(Math.max(0, C ** 2 - airy ** 2))) / m ** 2;
}

/**
 * The aperture of greatest depth within a total blur, Ne = C / (sqrt2 2.44 lambda), and that depth,
 * C^2 / (2.44 lambda m^2).
 *
 * @throws DomainError
 * @source Peterson 1996
 */
export function apertureOfGreatestDepth(
  magnification: number,
  totalBlurMm: number,
  wavelengthUm: number,
): { readonly effectiveFNumber: number; readonly depthMm: number } {
  const m = requirePositive('magnification', magnification);
  const C = requirePositive('totalBlurMm', totalBlurMm, 'mm');
  const airyPerStop = (AIRY * requirePositive('wavelengthUm', wavelengthUm, 'µm')) / 1000;
  return { effectiveFNumber: C / (Math.SQRT2 * airyPerStop), depthMm: C ** 2 / (airyPerStop * m ** 2) };
}
