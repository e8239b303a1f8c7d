/**
 * Modulation transfer of each cause, and their product: the independent check of the variance budget. Where causes
 * are not Gaussian the two differ, and the tests of the budget state by how much.
 */
import { requireNotNegative, requirePositive } from '../../domain-error.ts';
import { diffractionCutOffPerMm, diffractionMtf, GREEN_WAVELENGTH_UM } from './diffraction.ts';

/** Uniform streak, or a pixel aperture, of length L [µm]: |sin(pi nu L)/(pi nu L)|. @throws DomainError */
export function streakMtf(lengthUm: number, cyclesPerMm: number): number {
  const x = (Math.PI * frequency(cyclesPerMm) * requireNotNegative('lengthUm', lengthUm, 'µm')) / 1000;
  return x < 1e-6 ? 1 : Math.abs(Math.sin(x) / x);
}

/** Sinusoid of amplitude a [µm] seen for many periods: |J0(2 pi nu a)|. @throws DomainError */
export function oscillationMtf(amplitudeUm: number, cyclesPerMm: number): number {
  return Math.abs(
    besselJ(
      0,
      (2 * Math.PI * frequency(cyclesPerMm) * requireNotNegative('amplitudeUm', amplitudeUm, 'µm')) / 1000,
    ),
  );
}

/** Gaussian of standard deviation sigma [µm]: exp(-2 pi^2 sigma^2 nu^2). @throws DomainError */
export function gaussianMtf(sigmaUm: number, cyclesPerMm: number): number {
  return Math.exp(
    -2 * (Math.PI * frequency(cyclesPerMm) * (requireNotNegative('sigmaUm', sigmaUm, 'µm') / 1000)) ** 2,
  );
}

/** Uniform disc of diameter d [µm]: |2 J1(pi nu d)/(pi nu d)|; geometry alone. @throws DomainError */
export function discMtf(diameterUm: number, cyclesPerMm: number): number {
  const x = (Math.PI * frequency(cyclesPerMm) * requireNotNegative('diameterUm', diameterUm, 'µm')) / 1000;
  return x < 1e-6 ? 1 : Math.abs((2 * besselJ(1, x)) / x);
}

/** The causes of one frame's blur along one axis; lengths in µm on the sensor. */
export interface BlurCauses {
  readonly pixelUm: number;
  readonly effectiveFNumber: number;
  readonly defocusDiscUm: number;
  readonly streakUm: number;
  readonly gaussianSigmaUm: number;
}

/** MTF of independent causes together: the product. @throws DomainError */
export function combinedMtf(
  causes: BlurCauses,
  cyclesPerMm: number,
  wavelengthUm = GREEN_WAVELENGTH_UM,
): number {
  const cutOff = diffractionCutOffPerMm(causes.effectiveFNumber, wavelengthUm);
  return (
    streakMtf(causes.pixelUm, cyclesPerMm) *
    diffractionMtf(frequency(cyclesPerMm) / cutOff) *
    discMtf(causes.defocusDiscUm, cyclesPerMm) *
    streakMtf(causes.streakUm, cyclesPerMm) *
    gaussianMtf(causes.gaussianSigmaUm, cyclesPerMm)
  );
}

/** The lowest frequency at which the product falls to one half [cycles/mm]. @throws DomainError */
export function combinedMtf50PerMm(causes: BlurCauses, wavelengthUm = GREEN_WAVELENGTH_UM): number {
  const cutOff = diffractionCutOffPerMm(causes.effectiveFNumber, wavelengthUm);
  const STEPS = 2000;
  let high = cutOff;
  for (let i = 1; i <= STEPS; i++) {
    high = (cutOff * i) / STEPS;
    if (combinedMtf(causes, high, wavelengthUm) < 0.5) break;
  }
  let low = high - cutOff / STEPS;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (combinedMtf(causes, middle, wavelengthUm) >= 0.5) low = middle;
    else high = middle;
  }
  return low;
}

/** The sigma of the Gaussian with an MTF50: 0.18739 / nu [µm]. @throws DomainError */
export function gaussianOfMtf50Um(cyclesPerMm: number): number {
  return (
    (1000 * Math.sqrt(Math.LN2 / 2)) / (Math.PI * requirePositive('cyclesPerMm', cyclesPerMm, 'cycles/mm'))
  );
}

function frequency(cyclesPerMm: number): number {
  return requireNotNegative('cyclesPerMm', cyclesPerMm, 'cycles/mm');
}

/** J_n(x) by Bessel's integral, (1/pi) of cos(n theta - x sin theta): the midpoint rule converges exponentially. */
function besselJ(n: 0 | 1, x: number): number {
  const points = 32 + Math.ceil(Math.abs(x));
  let sum = 0;
  for (let i = 0; i < points; i++) {
    const theta = (Math.PI * (i + 0.5)) / points;
    sum += Math.cos(n * theta - x * Math.sin(theta));
  }
  return sum / points;
}
