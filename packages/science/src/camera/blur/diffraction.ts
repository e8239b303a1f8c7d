/** Blur by diffraction at a round aperture, in incoherent light. */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';

/** Green light, where the eye and the sensor see most [µm]. */
export const GREEN_WAVELENGTH_UM = 0.55;

/** First zero of J1 over pi: radius of the first dark ring in lambda Ne. */
const FIRST_DARK_RING = 1.2196698912665045;

/** Sigma over lambda Ne of the Gaussian with the Airy pattern's MTF50: 0.18739 / 0.40397, as the contract rounds it. */
const GAUSSIAN_OF_AIRY = 0.464;

/**
 * Diameter of the first dark ring, d = 2 x 1.21967 lambda Ne.
 *
 * @param effectiveFNumberValue Ne [1], > 0
 * @returns d [µm on the sensor]
 * @throws DomainError
 * @source Born & Wolf, Principles of Optics, circular aperture (from memory)
 */
export function airyDiameterUm(effectiveFNumberValue: number, wavelengthUm = GREEN_WAVELENGTH_UM): number {
  return (
    2 *
    FIRST_DARK_RING *
    requirePositive('wavelengthUm', wavelengthUm, 'µm') *
    requirePositive('effectiveFNumberValue', effectiveFNumberValue)
  );
}

/**
 * The sigma that stands for diffraction in a sum of variances: 0.464 lambda Ne, the Gaussian whose MTF falls to half
 * where the Airy pattern's does. An approximation, never a second moment, which diverges.
 *
 * @returns sigma [µm on the sensor]
 * @throws DomainError
 */
export function diffractionSigmaUm(
  effectiveFNumberValue: number,
  wavelengthUm = GREEN_WAVELENGTH_UM,
): number {
  return (
    GAUSSIAN_OF_AIRY *
    requirePositive('wavelengthUm', wavelengthUm, 'µm') *
    requirePositive('effectiveFNumberValue', effectiveFNumberValue)
  );
}

/** Highest frequency that passes: 1 / (lambda Ne) [cycles/mm]. @throws DomainError */
export function diffractionCutOffPerMm(
  effectiveFNumberValue: number,
  wavelengthUm = GREEN_WAVELENGTH_UM,
): number {
  return (
    1000 /
    (requirePositive('wavelengthUm', wavelengthUm, 'µm') *
      requirePositive('effectiveFNumberValue', effectiveFNumberValue))
  );
}

/**
 * Diffraction MTF: (2/pi)[acos s - s sqrt(1 - s^2)], s = frequency / cut-off; 0 from the cut-off on.
 *
 * @param relativeFrequency s [1], >= 0
 * @returns 0 to 1
 * @throws DomainError
 * @source Goodman, Introduction to Fourier Optics (from memory)
 */
export function diffractionMtf(relativeFrequency: number): number {
  const s = requireNotNegative('relativeFrequency', relativeFrequency);
  return s < 1 ? (2 / Math.PI) * (Math.acos(s) - s * Math.sqrt(1 - s * s)) : 0;
}

/** Wave-optical depth on the subject's side, a quarter wave at both ends. */
export interface WaveDepth {
  /** Numerical aperture on the subject's side [1]. */
  readonly numericalAperture: number;
  /** Depth [mm]. */
  readonly depthMm: number;
}

/**
 * Depth by wave optics at a numerical aperture: n lambda / NA^2.
 *
 * @param numericalAperture NA [1], > 0 and at most the refractive index
 * @param refractiveIndex n [1], >= 1
 * @returns depth [µm]
 * @throws DomainError
 * @source Keiser, Biophotonics: Concepts to Applications, eq. 8.4
 */
export function waveDepthUm(numericalAperture: number, wavelengthUm: number, refractiveIndex = 1): number {
  const n = requireInRange('refractiveIndex', refractiveIndex, { min: 1, max: 4 });
  const NA = requireInRange('numericalAperture', numericalAperture, { min: 0, max: n, minExclusive: true });
  return (n * requirePositive('wavelengthUm', wavelengthUm, 'µm')) / NA ** 2;
}

/** The same for a lens in air: NA = m / (2 Ne). @throws DomainError */
export function waveDepthOfLens(
  magnification: number,
  effectiveFNumberValue: number,
  wavelengthUm = GREEN_WAVELENGTH_UM,
): WaveDepth {
  const m = requirePositive('magnification', magnification);
  const NA = m / (2 * requirePositive('effectiveFNumberValue', effectiveFNumberValue));
  return { numericalAperture: NA, depthMm: waveDepthUm(NA, wavelengthUm) / 1000 };
}
