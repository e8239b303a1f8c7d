/** Meter equations: light, f-number, time and ISO bound together. */
import { requireFinite, requirePositive } from '../../domain-error.ts';

/** Reflected-light meter constant K most used [cd s/m^2 per ISO]; ISO 2720:1974 lets it be 10.6 to 13.4. */
export const REFLECTED_METER_CONSTANT = 12.5;

/** Incident-light constant C for a flat receptor [lx s per ISO]; ISO 2720:1974 lets it be 240 to 400. */
export const INCIDENT_METER_CONSTANT = 250;

/** What a camera is set to. */
export interface ExposureSetting {
  /** f-number [1], > 0. */
  readonly fNumber: number;
  /** Exposure time [s], > 0. */
  readonly exposureTimeS: number;
  /** ISO speed [1], > 0. */
  readonly iso: number;
}

/**
 * EV at ISO 100 for which a setting is right: log2(N^2/t) - log2(S/100).
 *
 * @throws DomainError
 * @source ISO 2720:1974 by way of Conrad, Exposure Metering
 */
export function ev100OfSetting(setting: ExposureSetting): number {
  const N = requirePositive('fNumber', setting.fNumber);
  const t = requirePositive('exposureTimeS', setting.exposureTimeS, 's');
  return Math.log2(N ** 2 / t) - Math.log2(requirePositive('iso', setting.iso) / 100);
}

/** EV (log2 of N^2/t) for a luminance [cd/m^2]: log2(L S / K). @throws DomainError */
export function evOfLuminance(luminance: number, iso = 100, constant = REFLECTED_METER_CONSTANT): number {
  return Math.log2(
    (requirePositive('luminance', luminance, 'cd/m2') * requirePositive('iso', iso)) /
      requirePositive('constant', constant),
  );
}

/** EV for an illuminance [lx]: log2(E S / C). @throws DomainError */
export function evOfIlluminance(
  illuminanceLux: number,
  iso = 100,
  constant = INCIDENT_METER_CONSTANT,
): number {
  return Math.log2(
    (requirePositive('illuminanceLux', illuminanceLux, 'lx') * requirePositive('iso', iso)) /
      requirePositive('constant', constant),
  );
}

/** Luminance [cd/m^2] for which a setting is right: L = K N^2/(t S). @throws DomainError */
export function luminanceOfSetting(setting: ExposureSetting, constant = REFLECTED_METER_CONSTANT): number {
  return (requirePositive('constant', constant) / 100) * 2 ** ev100OfSetting(setting);
}

/** Illuminance [lx] for which a setting is right: E = C N^2/(t S). @throws DomainError */
export function illuminanceOfSetting(setting: ExposureSetting, constant = INCIDENT_METER_CONSTANT): number {
  return (requirePositive('constant', constant) / 100) * 2 ** ev100OfSetting(setting);
}

/** Reflectance for which a reflected and an incident meter agree: R = pi K / C [1]. @throws DomainError */
export function equivalentReflectance(
  reflectedConstant = REFLECTED_METER_CONSTANT,
  incidentConstant = INCIDENT_METER_CONSTANT,
): number {
  return (
    (Math.PI * requirePositive('reflectedConstant', reflectedConstant)) /
    requirePositive('incidentConstant', incidentConstant)
  );
}

/**
 * Exposure time for a scene: t = k N^2 / (2^EV100 S/100).
 *
 * @param scene.ev100 EV of the scene at ISO 100
 * @param scene.exposureFactor k of focusing close [1]; 1 when the meter looked through the lens
 * @returns t [s]
 * @throws DomainError
 */
export function exposureTimeS(scene: {
  readonly ev100: number;
  readonly fNumber: number;
  readonly iso: number;
  readonly exposureFactor: number;
}): number {
  const N = requirePositive('fNumber', scene.fNumber);
  const k = requirePositive('exposureFactor', scene.exposureFactor);
  const S = requirePositive('iso', scene.iso);
  return (k * N ** 2) / (2 ** requireFinite('ev100', scene.ev100) * (S / 100));
}

/** ISO that a scene needs at an f-number and a time: 100 k N^2 / (t 2^EV100). @throws DomainError */
export function isoNeeded(scene: {
  readonly ev100: number;
  readonly fNumber: number;
  readonly exposureTimeS: number;
  readonly exposureFactor: number;
}): number {
  const N = requirePositive('fNumber', scene.fNumber);
  const k = requirePositive('exposureFactor', scene.exposureFactor);
  const t = requirePositive('exposureTimeS', scene.exposureTimeS, 's');
  return (100 * k * N ** 2) / (t * 2 ** requireFinite('ev100', scene.ev100));
}

/** A natural light, in words, with its EV at ISO 100. */
export interface NaturalLight {
  readonly light: string;
  readonly ev100: number;
}

/**
 * Natural light from two hours after sunrise to two before sunset, front light; side light takes one stop, back
 * light two. Forest floor, deep shade and dusk are not in the standard.
 *
 * @source ANSI PH2.7-1973 and -1986 exposure guides
 */
export const NATURAL_LIGHT: readonly NaturalLight[] = [
  { light: 'light sand or snow, full or slightly hazy sun', ev100: 16 },
  { light: 'full or slightly hazy sun, distinct shadows', ev100: 15 },
  { light: 'hazy sun, soft shadows', ev100: 14 },
  { light: 'cloudy bright, no shadows', ev100: 13 },
  { light: 'heavy overcast, or open shade under a clear sky', ev100: 12 },
];
