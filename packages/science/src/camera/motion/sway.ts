/**
 * A head's sway by its spectrum, and what of it blurs an exposure of any length.
 *
 * The variance of displacement within an exposure T follows from the autocorrelation R:
 *
 *   s2(T) = (2/T^2) integral 0..T (T - s) [R(0) - R(s)] ds = sum over f of S(f) (1 - sinc^2(f T))
 *
 * velocity times T over sqrt12 when T is short, the whole of the sway when T is long. A single frequency in place of
 * the spectrum, `Sway.frequencyHz`, is right at both ends; between them it blurs too much: by 2 % of the variance at
 * 1/30 s, and several times for a stiff stem at half a second, whose slow leaning does not blur yet.
 */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';
import { dragPerSpeed, oscillatorOfStem, type Stem } from './stem.ts';

/** The wind's unsteadiness at the head. */
export interface Turbulence {
  /** Iu, standard deviation over mean [1], >= 0. */
  readonly intensity: number;
  /** Lu, size of the eddies [m], > 0; about the height of the stand. */
  readonly lengthScaleM: number;
}

/** What a meadow does to the wind at the height of its flowers. @source FS 3.4, 4.2 */
export const MEADOW_TURBULENCE: Turbulence = { intensity: 0.5, lengthScaleM: 0.5 };

/** Variance of displacement along one horizontal axis, in bins of frequency. */
export interface SwaySpectrum {
  /** Middle of each bin [Hz]. */
  readonly frequenciesHz: Float64Array;
  /** Variance of each bin [mm^2]; all 0 in still air. */
  readonly variancesMm2: Float64Array;
  /** Damping ratio, the air's share included [1]. */
  readonly damping: number;
}

/** Samples of the spectrum, evenly in log f from 1/1000 to 1000 of the natural frequency. */
const SPECTRUM_POINTS = 600;
const SPECTRUM_E_FOLDS = Math.log(1000);

/**
 * The spectrum of a head in the wind: S_F = (rho Cd A U)^2 S_u with von Karman's S_u, through the oscillator's response.
 *
 *   S_x = S_F/k^2 / {[1 - (f/f0)^2]^2 + (2 zeta f/f0)^2}      zeta = zeta_s + rho Cd A U / (2 (2 pi f0) me)
 *
 * @param windSpeedMs U, mean wind at the head [m/s], 0 to 40
 * @throws DomainError
 * @source de Langre 2008, Annu. Rev. Fluid Mech. 40, 141; FS 4.2
 */
export function swaySpectrum(
  s: Stem,
  windSpeedMs: number,
  turbulence: Turbulence = MEADOW_TURBULENCE,
): SwaySpectrum {
  const U = requireInRange('windSpeedMs', windSpeedMs, {
    what: 'a wind speed',
    unit: 'm/s',
    min: 0,
    max: 40,
  });
  const Iu = requireNotNegative('intensity', turbulence.intensity);
  const Lu = requirePositive('lengthScaleM', turbulence.lengthScaleM, 'm');
  const { effectiveMassKg: me, stiffnessNM: k, naturalFrequencyHz: f0 } = oscillatorOfStem(s);
  const c = dragPerSpeed(s, U);
  const zeta = s.structuralDamping + c / (2 * 2 * Math.PI * f0 * me);
  const step = (2 * SPECTRUM_E_FOLDS) / SPECTRUM_POINTS;
  const frequenciesHz = new Float64Array(SPECTRUM_POINTS + 1);
  const variancesMm2 = new Float64Array(SPECTRUM_POINTS + 1);
  const blows = U > 1e-6 && Iu > 0;
  const su2 = (Iu * U) ** 2;
  const T = blows ? Lu / U : 0;
  for (let i = 0; i <= SPECTRUM_POINTS; i++) {
    const r = Math.exp(-SPECTRUM_E_FOLDS + i * step);
    const f = f0 * r;
    frequenciesHz[i] = f;
    if (!blows) continue;
    const Su = (4 * su2 * T) / (1 + 70.8 * (f * T) ** 2) ** (5 / 6);
    const Sx = ((c / k) ** 2 * Su) / ((1 - r * r) ** 2 + (2 * zeta * r) ** 2);
    variancesMm2[i] = 1e6 * Sx * f * step;
  }
  return { frequenciesHz, variancesMm2, damping: zeta };
}

/** Spread of a head's motion along one horizontal axis. */
export interface Sway {
  /** Standard deviation of displacement [mm]. */
  readonly displacementMm: number;
  /** Standard deviation of velocity [mm/s]. */
  readonly speedMmS: number;
  /** The frequency that carries that velocity at that displacement, sv/(2 pi sx) [Hz]. */
  readonly frequencyHz: number;
  /** Damping ratio, the air's share included [1]. */
  readonly damping: number;
}

/**
 * Sway from wind, from the moments of `swaySpectrum`. Assumed as large in every horizontal direction. Linear: too
 * large once the head bends by more than a third of its stem.
 *
 * @param windSpeedMs mean wind at the head [m/s], 0 to 40
 * @throws DomainError
 * @source de Langre 2008; FS 4.2, check P-5
 */
export function swayInWind(s: Stem, windSpeedMs: number, turbulence: Turbulence = MEADOW_TURBULENCE): Sway {
  return swayOfSpectrum(s, swaySpectrum(s, windSpeedMs, turbulence));
}

/** The same of a stem's spectrum that is at hand. @throws DomainError */
export function swayOfSpectrum(s: Stem, spectrum: SwaySpectrum): Sway {
  const { frequenciesHz, variancesMm2, damping } = spectrum;
  let displacement = 0;
  let velocity = 0;
  for (let i = 0; i < frequenciesHz.length; i++) {
    displacement += variancesMm2[i]!;
    velocity += (2 * Math.PI * frequenciesHz[i]!) ** 2 * variancesMm2[i]!;
  }
  const sx = Math.sqrt(displacement);
  const sv = Math.sqrt(velocity);
  return {
    displacementMm: sx,
    speedMmS: sv,
    frequencyHz: sx > 0 ? sv / (2 * Math.PI * sx) : oscillatorOfStem(s).naturalFrequencyHz,
    damping,
  };
}

/** Autocorrelation of displacement, R(s)/R(0), 1 at lag 0; 1 throughout in still air. @throws DomainError */
export function swayCorrelation(spectrum: SwaySpectrum, lagS: number): number {
  const s = requireNotNegative('lagS', lagS, 's');
  let whole = 0;
  let kept = 0;
  spectrum.frequenciesHz.forEach((f, i) => {
    whole += spectrum.variancesMm2[i]!;
    kept += spectrum.variancesMm2[i]! * Math.cos(2 * Math.PI * f * s);
  });
  return whole > 0 ? kept / whole : 1;
}

/**
 * Mean variance of displacement within an exposure: the sum of S(f) (1 - sinc^2(f T)).
 *
 * @param exposureTimeS T [s], >= 0
 * @returns [mm^2], from 0 to the variance of the sway
 * @throws DomainError
 */
export function swayVarianceWithin(spectrum: SwaySpectrum, exposureTimeS: number): number {
  const T = requireNotNegative('exposureTimeS', exposureTimeS, 's');
  let sum = 0;
  for (let i = 0; i < spectrum.frequenciesHz.length; i++) {
    const x = Math.PI * spectrum.frequenciesHz[i]! * T;
    // Below 0.01 the series keeps the digits that the difference would lose.
    const share = x < 0.01 ? (x * x) / 3 : 1 - (Math.sin(x) / x) ** 2;
    sum += spectrum.variancesMm2[i]! * share;
  }
  return sum;
}
