/** Signal and noise of a linear sensor, as EMVA 1288 writes them. */
import { requireNotNegative, requirePositive } from '../../domain-error.ts';
import { DAYLIGHT_PHOTONS_PER_UM2_LUX_S } from './photons.ts';
import { midtoneExposureLuxS } from './iso-speed.ts';

/** Variance of rounding to whole numbers [DN^2]. */
export const QUANTISATION_VARIANCE = 1 / 12;

/** The sensor's own figures. */
export interface Sensor {
  readonly pixelPitchUm: number;
  /** Quantum efficiency, fill factor and filters included [0..1]. */
  readonly quantumEfficiency: number;
  /** Read noise, referred to the input [electrons], >= 0. */
  readonly readNoiseElectrons: number;
}

/** Signal to noise of a signal of e electrons: e / sqrt(e + r^2) [1]; 0 in the dark. @throws DomainError */
export function snrOfElectrons(electrons: number, readNoiseElectrons: number): number {
  const e = requireNotNegative('electrons', electrons, 'electrons');
  const r = requireNotNegative('readNoiseElectrons', readNoiseElectrons, 'electrons');
  return e > 0 ? e / Math.sqrt(e + r ** 2) : 0;
}

/**
 * Electrons for a wanted signal to noise: (S^2/2)[1 + sqrt(1 + 4 r^2/S^2)].
 *
 * @param snr S [1], > 0
 * @throws DomainError
 * @source EMVA Standard 1288 (the inversion from memory, confirmed by computation)
 */
export function electronsForSnr(snr: number, readNoiseElectrons: number): number {
  const S = requirePositive('snr', snr);
  const r = requireNotNegative('readNoiseElectrons', readNoiseElectrons, 'electrons');
  return (S ** 2 / 2) * (1 + Math.sqrt(1 + (4 * r ** 2) / S ** 2));
}

/** Read noise with rounding in it: sqrt(sigma_d^2 + (1/12)/K^2) [electrons], K in DN/electron. @throws DomainError */
export function temporalDarkNoiseElectrons(darkNoiseElectrons: number, gainDnPerElectron: number): number {
  const d = requireNotNegative('darkNoiseElectrons', darkNoiseElectrons, 'electrons');
  return Math.sqrt(
    d ** 2 + QUANTISATION_VARIANCE / requirePositive('gainDnPerElectron', gainDnPerElectron) ** 2,
  );
}

/** Gain K from two points of the photon transfer curve: slope of variance against mean [DN/electron]. @throws DomainError */
export function gainFromTransfer(
  first: { readonly mean: number; readonly variance: number },
  second: { readonly mean: number; readonly variance: number },
): number {
  const rise = requirePositive('second.mean - first.mean', second.mean - first.mean, 'DN');
  return requirePositive('second.variance - first.variance', second.variance - first.variance, 'DN2') / rise;
}

/** Dynamic range, full well over the least signal [stops, dB]. @throws DomainError */
export function dynamicRange(
  fullWellElectrons: number,
  leastSignalElectrons: number,
): { readonly stops: number; readonly decibels: number } {
  const ratio =
    requirePositive('fullWellElectrons', fullWellElectrons, 'electrons') /
    requirePositive('leastSignalElectrons', leastSignalElectrons, 'electrons');
  return { stops: Math.log2(ratio), decibels: 20 * Math.log10(ratio) };
}

/** Signal to noise of n aligned frames averaged, each of e electrons. @throws DomainError */
export function snrOfAverage(electronsEach: number, readNoiseElectrons: number, frames: number): number {
  return snrOfElectrons(electronsEach, readNoiseElectrons) * Math.sqrt(requirePositive('frames', frames));
}

/**
 * Electrons in the metered midtone of daylight at an ISO setting.
 *
 * @param stopsFromMidtone brighter (+) or darker (-) than the midtone [stops]
 * @throws DomainError
 */
export function electronsAtIso(sensor: Sensor, iso: number, stopsFromMidtone = 0): number {
  const area = requirePositive('pixelPitchUm', sensor.pixelPitchUm, 'µm') ** 2;
  const eta = requirePositive('quantumEfficiency', sensor.quantumEfficiency);
  return midtoneExposureLuxS(iso) * area * DAYLIGHT_PHOTONS_PER_UM2_LUX_S * eta * 2 ** stopsFromMidtone;
}

/** Signal to noise at an ISO setting, so many stops from the metered midtone, in daylight. @throws DomainError */
export function snrAtIso(sensor: Sensor, iso: number, stopsFromMidtone = 0): number {
  return snrOfElectrons(electronsAtIso(sensor, iso, stopsFromMidtone), sensor.readNoiseElectrons);
}
