/** Dew: how much forms in a night, when it starts, how fast drops dry. */
import { requireFinite, requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';
import {
  psychrometricConstantKpa,
  saturationSlopeKpa,
  saturationVapourPressureHpa,
  vapourCoefficients,
} from './humidity.ts';

/** Air at sea level [kPa]. */
const seaLevelKpa = 101.3;
const stefanBoltzmann = 5.670374e-8;

/** Density of dry air at sea level times its heat, 1013 J/(kg K) [J/(m³ K)]. */
function rhoCpAt(temperatureC: number): number {
  return ((seaLevelKpa * 1000) / (287.05 * (temperatureC + 273.15))) * 1013;
}

/** Air over a wet leaf, and what the leaf gains or loses by radiation. */
export interface WetSurface {
  /** Rn, net radiation, negative at night [W/m²]. */
  readonly netRadiationWm2: number;
  /** T [°C]. */
  readonly temperatureC: number;
  /** RH [0..1], above 0. */
  readonly relativeHumidity: number;
  /** ra, resistance of the air around the leaf [s/m], above 0: large in still air. */
  readonly airResistanceSm: number;
}

/**
 * Evaporation from a wet surface: negative is dew.
 *
 *   LE = [Delta Rn + rho cp (es - ea)/ra] / (Delta + gamma)      Penman-Monteith with rs = 0
 *
 * At sea level; a real leaf's dew is supplied by air that the night has made stable, so the formula errs high.
 *
 * @returns LE [W/m²]
 * @throws DomainError outside the ranges
 * @source Monteith 1965; Allen et al. 1998, FAO-56, eq. 3
 */
export function evaporationWm2(surface: WetSurface): number {
  const { Delta, gamma, deficit } = vapourTerms(surface);
  const Rn = requireFinite('netRadiationWm2', surface.netRadiationWm2, 'W/m²');
  const ra = requirePositive('airResistanceSm', surface.airResistanceSm, 's/m');
  return (Delta * Rn + (rhoCpAt(surface.temperatureC) * deficit) / ra) / (Delta + gamma);
}

function vapourTerms(air: { readonly temperatureC: number; readonly relativeHumidity: number }) {
  const RH = requireInRange('relativeHumidity', air.relativeHumidity, {
    what: 'a relative humidity',
    min: 0,
    max: 1,
    minExclusive: true,
  });
  const esKpa = saturationVapourPressureHpa(air.temperatureC, vapourCoefficients.fao56) / 10;
  return {
    Delta: saturationSlopeKpa(air.temperatureC),
    gamma: psychrometricConstantKpa(seaLevelKpa),
    deficit: esKpa * (1 - RH),
  };
}

/**
 * Dewfall from saturated air, the most a night can give: LE = Delta / (Delta + gamma) Rn.
 *
 * @param netRadiationWm2 Rn [W/m²], negative at night
 * @param temperatureC T [°C]
 * @returns LE [W/m²]
 * @source Monteith 1957, Q. J. R. Meteorol. Soc. 83, 322
 */
export function equilibriumDewWm2(netRadiationWm2: number, temperatureC: number): number {
  const Delta = saturationSlopeKpa(temperatureC);
  const Rn = requireFinite('netRadiationWm2', netRadiationWm2, 'W/m²');
  return (Delta / (Delta + psychrometricConstantKpa(seaLevelKpa))) * Rn;
}

/** Water of a latent heat flux: [W/m²] to [mm/h]. 2.501 - 0.002361 T MJ/kg, FAO-56 annex 3. */
export function waterRateMmH(latentHeatWm2: number, temperatureC: number): number {
  const lambda = (2.501 - 0.002361 * temperatureC) * 1e6;
  return (requireFinite('latentHeatWm2', latentHeatWm2, 'W/m²') * 3600) / lambda;
}

/**
 * Relative humidity from which dew forms: es - ea = -Delta Rn ra / (rho cp).
 *
 * @returns RH [0..1]; 1 where the leaf gains by radiation, 0 where dew would form in any air
 * @throws DomainError outside the ranges
 */
export function dewOnsetHumidity(surface: Omit<WetSurface, 'relativeHumidity'>): number {
  const esKpa = saturationVapourPressureHpa(surface.temperatureC, vapourCoefficients.fao56) / 10;
  const Rn = requireFinite('netRadiationWm2', surface.netRadiationWm2, 'W/m²');
  const ra = requirePositive('airResistanceSm', surface.airResistanceSm, 's/m');
  const deficit = (-saturationSlopeKpa(surface.temperatureC) * Rn * ra) / rhoCpAt(surface.temperatureC);
  return Math.min(1, Math.max(0, 1 - deficit / esKpa));
}

/** How far a dry leaf is off the air's temperature: Rn ra / (rho cp) [K]. */
export function dryLeafDifferenceK(
  netRadiationWm2: number,
  temperatureC: number,
  airResistanceSm: number,
): number {
  const ra = requirePositive('airResistanceSm', airResistanceSm, 's/m');
  return (requireFinite('netRadiationWm2', netRadiationWm2, 'W/m²') * ra) / rhoCpAt(temperatureC);
}

/**
 * Emissivity of a cloudless sky: eps = 1.24 (ea/T)^(1/7), ea in hPa, T in K.
 *
 * @source Brutsaert 1975, Water Resour. Res. 11, 742
 */
export function clearSkyEmissivityBrutsaert1975(temperatureC: number, relativeHumidity: number): number {
  const RH = requireInRange('relativeHumidity', relativeHumidity, { min: 0, max: 1 });
  const ea = RH * saturationVapourPressureHpa(temperatureC, vapourCoefficients.wmo);
  return Math.min(1, 1.24 * (ea / (temperatureC + 273.15)) ** (1 / 7));
}

/**
 * Net long-wave radiation of a leaf under a cloudless sky, in W/m²; negative: it loses.
 *
 * @param surfaceEmissivity [0..1]; 0.97 for leaves
 */
export function clearNetLongwaveWm2(
  temperatureC: number,
  relativeHumidity: number,
  surfaceEmissivity: number,
): number {
  const sky = clearSkyEmissivityBrutsaert1975(temperatureC, relativeHumidity);
  const emissivity = requireInRange('surfaceEmissivity', surfaceEmissivity, { min: 0, max: 1 });
  return emissivity * (sky - 1) * stefanBoltzmann * (temperatureC + 273.15) ** 4;
}

/**
 * Time to dry a film of water.
 *
 * @param waterMm [mm], at least 0; thin dew 0.1 to 0.3
 * @returns hours, or that it does not dry
 */
export function dryingTime(
  waterMm: number,
  surface: WetSurface,
): { readonly kind: 'dries'; readonly hours: number } | { readonly kind: 'staysWet' } {
  const water = requireNotNegative('waterMm', waterMm, 'mm');
  const rate = waterRateMmH(evaporationWm2(surface), surface.temperatureC);
  return rate > 0 ? { kind: 'dries', hours: water / rate } : { kind: 'staysWet' };
}
