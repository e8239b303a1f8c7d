/** How the air feels to the photographer who lies still in it. */
import { requireInRange, requireNotNegative } from '../domain-error.ts';

/**
 * Wind chill of a face in wind.
 *
 *   13.12 + 0.6215 T - 11.37 V^0.16 + 0.3965 T V^0.16      V in km/h at 10 m
 *
 * For air up to 10 °C and wind from 4.8 km/h; the air's own temperature otherwise.
 *
 * @param airTemperatureC T [°C]
 * @param windSpeedMs at 10 m [m/s], at least 0
 * @returns [°C], never above T
 * @throws DomainError outside the ranges
 * @source Osczevski and Bluestein 2005, Bull. Am. Meteorol. Soc. 86, 1453 (from memory)
 */
export function windChillC(airTemperatureC: number, windSpeedMs: number): number {
  const T = requireInRange('airTemperatureC', airTemperatureC, {
    what: 'an air temperature',
    unit: '°C',
    min: -90,
    max: 70,
  });
  const V = 3.6 * requireNotNegative('windSpeedMs', windSpeedMs, 'm/s');
  if (T > 10 || V < 4.8) return T;
  const power = V ** 0.16;
  return Math.min(T, 13.12 + 0.6215 * T - 11.37 * power + 0.3965 * T * power);
}
