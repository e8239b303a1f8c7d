/** From photometric units to photons. */
import { requireNotNegative, requirePositive } from '../../domain-error.ts';

const PLANCK = 6.62607015e-34;
const LIGHT_SPEED = 299792458;
/** Luminous efficacy at 555 nm (540 THz) [lm/W]. */
const EFFICACY = 683;

/** Photons per µm^2 and lx s in daylight, 400 to 700 nm: the mean of D55 and D65 by the CIE tables (OI E-20), rounded. */
export const DAYLIGHT_PHOTONS_PER_UM2_LUX_S = 11_000;

/**
 * Photons of one wavelength per µm^2 and lx s, near the peak of the eye: (1/683) lambda / (h c), V taken as 1.
 *
 * @param wavelengthNm [nm], > 0; meant for 555
 * @returns photons / (µm^2 lx s)
 * @throws DomainError
 * @source the definition of the lumen
 */
export function photonsPerUm2LuxS(wavelengthNm = 555): number {
  const lambda = requirePositive('wavelengthNm', wavelengthNm, 'nm') * 1e-9;
  return (lambda / (PLANCK * LIGHT_SPEED) / EFFICACY) * 1e-12;
}

/**
 * Photons on a pixel: mu_p = 50.34 A t lambda E.
 *
 * @param light.pixelAreaUm2 A [µm^2], > 0
 * @param light.exposureTimeMs t [ms], > 0
 * @param light.wavelengthUm lambda [µm], > 0
 * @param light.irradianceUwPerCm2 E [µW/cm^2], >= 0
 * @throws DomainError
 * @source EMVA Standard 1288, release 3.1 (the constant from memory, confirmed by computation)
 */
export function photonsOnPixel(light: {
  readonly pixelAreaUm2: number;
  readonly exposureTimeMs: number;
  readonly wavelengthUm: number;
  readonly irradianceUwPerCm2: number;
}): number {
  const A = requirePositive('pixelAreaUm2', light.pixelAreaUm2, 'µm2') * 1e-12;
  const t = requirePositive('exposureTimeMs', light.exposureTimeMs, 'ms') * 1e-3;
  const lambda = requirePositive('wavelengthUm', light.wavelengthUm, 'µm') * 1e-6;
  const E = requireNotNegative('irradianceUwPerCm2', light.irradianceUwPerCm2, 'µW/cm2') * 1e-2;
  return (A * t * lambda * E) / (PLANCK * LIGHT_SPEED);
}
