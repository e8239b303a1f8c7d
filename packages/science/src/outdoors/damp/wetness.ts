/** Whether leaves are wet, by rules fitted to leaf-wetness sensors. */
import { requireInRange, requireNotNegative } from '../../domain-error.ts';

/** What the rule saw. */
export interface LeafWetness {
  readonly wet: boolean;
  /** The rule that decided: by dew-point depression, or by one of two fitted indices. */
  readonly branch: 'dry air' | 'light wind' | 'windy, damp air' | 'windy, not damp';
  /** The index and its bound, where one was computed. */
  readonly index: number | null;
  readonly bound: number | null;
}

/**
 * Whether leaves are wet in an hour without rain.
 *
 *   DPD >= 3.7 K: dry
 *   V < 2.5 m/s:  wet if 1.6064 sqrt T + 0.0036 T² + 0.1531 RH - 0.4599 V DPD - 0.0035 T RH > 14.4674
 *   else RH >= 87.8 % and 0.7921 sqrt T + 0.0046 RH - 2.3889 V - 0.0390 T V + 1.0613 V DPD > 37: wet; else dry
 *
 * Fitted above freezing; below 0 °C the square root is taken of 0.
 *
 * @param air.temperatureC T [°C], -90 to 70
 * @param air.relativeHumidity RH [0..1]
 * @param air.windSpeedMs V near the crop [m/s], at least 0
 * @param air.dewPointDepressionK DPD [K], at least 0
 * @throws DomainError outside the ranges
 * @source Kim, Taylor and Gleason 2002, Plant Disease 86, 179 (CART/SLD)
 */
export function leafWetnessCart2002(air: {
  readonly temperatureC: number;
  readonly relativeHumidity: number;
  readonly windSpeedMs: number;
  readonly dewPointDepressionK: number;
}): LeafWetness {
  const T = requireInRange('temperatureC', air.temperatureC, { unit: '°C', min: -90, max: 70 });
  const RH = 100 * requireInRange('relativeHumidity', air.relativeHumidity, { min: 0, max: 1 });
  const V = requireNotNegative('windSpeedMs', air.windSpeedMs, 'm/s');
  const DPD = requireNotNegative('dewPointDepressionK', air.dewPointDepressionK, 'K');
  if (DPD >= 3.7) return { wet: false, branch: 'dry air', index: null, bound: null };
  const root = Math.sqrt(Math.max(0, T));
  if (V < 2.5) {
    const index = 1.6064 * root + 0.0036 * T * T + 0.1531 * RH - 0.4599 * V * DPD - 0.0035 * T * RH;
    return { wet: index > 14.4674, branch: 'light wind', index, bound: 14.4674 };
  }
  const index = 0.7921 * root + 0.0046 * RH - 2.3889 * V - 0.039 * T * V + 1.0613 * V * DPD;
  if (RH < 87.8) return { wet: false, branch: 'windy, not damp', index, bound: 37 };
  return { wet: index > 37, branch: 'windy, damp air', index, bound: 37 };
}
