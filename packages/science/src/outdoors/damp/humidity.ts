/** Water vapour in the air: pressure, humidity, dew point, wet bulb. */
import { requireFinite, requireInRange, requirePositive } from '../../domain-error.ts';

/** Coefficients of es(T) = A exp(b T / (T + c)), over water [hPa, 1, °C]. */
export interface VapourCoefficients {
  readonly A: number;
  readonly b: number;
  readonly c: number;
  /** The temperatures the set is meant for [°C]. */
  readonly validC: readonly [low: number, high: number];
}

/**
 * The published sets.
 *
 * - `fao56`: Allen et al. 1998, FAO-56, eq. 11 (Tetens)
 * - `wmo`: WMO-No. 8, annex 4.B (Magnus)
 * - `alduchovEskridge1996`: J. Appl. Meteorol. 35, 601
 */
export const vapourCoefficients = {
  fao56: { A: 6.108, b: 17.27, c: 237.3, validC: [0, 50] },
  wmo: { A: 6.112, b: 17.62, c: 243.12, validC: [-45, 60] },
  alduchovEskridge1996: { A: 6.1094, b: 17.625, c: 243.04, validC: [-40, 50] },
} as const satisfies Record<string, VapourCoefficients>;

const temperature = { what: 'a temperature', unit: '°C', min: -90, max: 70 };

function requireTemperature(name: string, value: number): number {
  return requireInRange(name, value, temperature);
}

/** Relative humidity [0..1], above 0. Forecasts give up to 1.02 in fog; such values are the caller's to cap. */
function requireHumidity(name: string, value: number): number {
  return requireInRange(name, value, {
    what: 'a relative humidity',
    min: 0,
    max: 1,
    minExclusive: true,
  });
}

/**
 * Saturation vapour pressure over water.
 *
 * @param temperatureC T [°C], -90 to 70; good inside the set's own range
 * @returns es [hPa]
 * @throws DomainError outside the range
 * @source the set's own, see `vapourCoefficients`
 */
export function saturationVapourPressureHpa(
  temperatureC: number,
  set: VapourCoefficients = vapourCoefficients.wmo,
): number {
  const T = requireTemperature('temperatureC', temperatureC);
  return set.A * Math.exp((set.b * T) / (T + set.c));
}

/**
 * Temperature at which a vapour pressure saturates: the dew point.
 *
 *   Td = c g / (b - g)      g = ln(e / A)
 *
 * @param vapourPressureHpa e [hPa], above 0
 * @returns Td [°C]
 * @source inverse of the Magnus form
 */
export function dewPointOfVapourC(
  vapourPressureHpa: number,
  set: VapourCoefficients = vapourCoefficients.wmo,
): number {
  const g = Math.log(requirePositive('vapourPressureHpa', vapourPressureHpa, 'hPa') / set.A);
  return (set.c * g) / (set.b - g);
}

/**
 * Dew point from temperature and relative humidity.
 *
 * @param temperatureC T [°C]
 * @param relativeHumidity RH [0..1], above 0
 * @returns Td [°C], at most `temperatureC`
 * @throws DomainError outside the ranges
 */
export function dewPointC(
  temperatureC: number,
  relativeHumidity: number,
  set: VapourCoefficients = vapourCoefficients.wmo,
): number {
  const RH = requireHumidity('relativeHumidity', relativeHumidity);
  const Td = dewPointOfVapourC(RH * saturationVapourPressureHpa(temperatureC, set), set);
  return Math.min(temperatureC, Td);
}

/**
 * Relative humidity from temperature and dew point.
 *
 * @returns RH [0..1]; 1 where the dew point is at or above the temperature
 * @throws DomainError outside the ranges
 */
export function relativeHumidity(
  temperatureC: number,
  dewPointTemperatureC: number,
  set: VapourCoefficients = vapourCoefficients.wmo,
): number {
  const e = saturationVapourPressureHpa(
    requireTemperature('dewPointTemperatureC', dewPointTemperatureC),
    set,
  );
  return Math.min(1, e / saturationVapourPressureHpa(temperatureC, set));
}

/**
 * Mean air pressure at an altitude.
 *
 *   P = 101.3 [(293 - 0.0065 z) / 293]^5.26
 *
 * @param altitudeM z above sea level [m], -500 to 9000
 * @returns P [kPa]
 * @throws DomainError outside the range
 * @source Allen et al. 1998, FAO-56, eq. 7
 */
export function pressureAtAltitudeKpa(altitudeM: number): number {
  const z = requireInRange('altitudeM', altitudeM, { what: 'an altitude', unit: 'm', min: -500, max: 9000 });
  return 101.3 * ((293 - 0.0065 * z) / 293) ** 5.26;
}

/**
 * Psychrometric constant: gamma = 0.000665 P.
 *
 * @param pressureKpa P [kPa], above 0
 * @returns gamma [kPa/°C]
 * @source Allen et al. 1998, FAO-56, eq. 8
 */
export function psychrometricConstantKpa(pressureKpa: number): number {
  return 0.000665 * requirePositive('pressureKpa', pressureKpa, 'kPa');
}

/**
 * Slope of the saturation curve: Delta = 4098 es / (T + 237.3)^2.
 *
 * @param temperatureC T [°C]
 * @returns Delta [kPa/°C]
 * @source Allen et al. 1998, FAO-56, eq. 13
 */
export function saturationSlopeKpa(temperatureC: number): number {
  const esKpa = saturationVapourPressureHpa(temperatureC, vapourCoefficients.fao56) / 10;
  return (4098 * esKpa) / (temperatureC + 237.3) ** 2;
}

/** The ventilated (Asmann) psychrometer's coefficient [1/°C]. Allen et al. 1998, FAO-56, eq. 16. */
export const ventilatedPsychrometerCoefficient = 0.000662;

/**
 * Vapour pressure from a dry and a wet bulb: ea = es(Tw) - a P (T - Tw).
 *
 * @param reading.dryBulbC T [°C]
 * @param reading.wetBulbC Tw [°C], at most T
 * @param reading.pressureKpa P [kPa]
 * @returns ea [kPa]
 * @throws DomainError outside the ranges
 * @source Allen et al. 1998, FAO-56, eq. 15
 */
export function vapourPressureFromPsychrometerKpa(reading: {
  readonly dryBulbC: number;
  readonly wetBulbC: number;
  readonly pressureKpa: number;
}): number {
  const T = requireTemperature('dryBulbC', reading.dryBulbC);
  const Tw = requireInRange('wetBulbC', reading.wetBulbC, { ...temperature, max: T });
  const P = requirePositive('pressureKpa', reading.pressureKpa, 'kPa');
  const esKpa = saturationVapourPressureHpa(Tw, vapourCoefficients.fao56) / 10;
  return esKpa - ventilatedPsychrometerCoefficient * P * (T - Tw);
}

/**
 * Wet-bulb temperature from temperature and humidity, an empirical fit at sea level.
 *
 * @param temperatureC T [°C], -20 to 50
 * @param relativeHumidity RH [0..1], 0.05 to 0.99
 * @returns Tw [°C]; error -1 to +0.65 °C
 * @throws DomainError outside the ranges
 * @source Stull 2011, J. Appl. Meteorol. Climatol. 50, 2267, eq. 1
 */
export function wetBulbStull2011C(temperatureC: number, relativeHumidity: number): number {
  const T = requireInRange('temperatureC', temperatureC, { ...temperature, min: -20, max: 50 });
  const RH =
    100 *
    requireInRange('relativeHumidity', relativeHumidity, {
      what: 'a relative humidity',
      min: 0.05,
      max: 0.99,
    });
  return (
    T * Math.atan(0.151977 * Math.sqrt(RH + 8.313659)) +
    Math.atan(T + RH) -
    Math.atan(RH - 1.676331) +
    0.00391838 * RH ** 1.5 * Math.atan(0.023101 * RH) -
    4.686035
  );
}

/**
 * Dew-point depression: how far the air is from dew.
 *
 * @returns T - Td [K], at least 0
 */
export function dewPointDepressionK(temperatureC: number, dewPointTemperatureC: number): number {
  return Math.max(
    0,
    requireFinite('temperatureC', temperatureC, '°C') -
      requireFinite('dewPointTemperatureC', dewPointTemperatureC, '°C'),
  );
}
