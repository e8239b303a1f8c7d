/** What cool insects do, from air and sun: thresholds of recording schemes, turned round. */
import { requireInRange, requireNotNegative, requireShare } from '../domain-error.ts';
import { beaufortNumber } from './wind/beaufort.ts';

const airTemperature = { what: 'an air temperature', unit: '°C', min: -90, max: 70 };

/**
 * Whether butterflies are on the wing by the rule of the transect walks: 13 to 17 °C with at least 60 % sun, above
 * 17 °C in any light without rain; wind at most Beaufort 5.
 *
 * @param weather.airTemperatureC [°C]
 * @param weather.sunshineShare share of the walk in sun [0..1]
 * @param weather.windSpeedMs at 10 m [m/s], at least 0
 * @param weather.raining whether it rains
 * @throws DomainError outside the ranges
 * @source Pollard and Yates 1993; protocol text of the monitoring schemes
 */
export function butterfliesOnTheWing(weather: {
  readonly airTemperatureC: number;
  readonly sunshineShare: number;
  readonly windSpeedMs: number;
  readonly raining: boolean;
}): boolean {
  const T = requireInRange('airTemperatureC', weather.airTemperatureC, airTemperature);
  const sun = requireShare('sunshineShare', weather.sunshineShare);
  if (weather.raining || beaufortNumber(weather.windSpeedMs) > 5) return false;
  return T > 17 || (T >= 13 && sun >= 0.6);
}

/**
 * Whether butterflies are on the wing in numbers: `butterfliesOnTheWing`, and from 19 °C or in at least 80 % sun.
 *
 * @throws DomainError outside the ranges
 * @source Wikström, Milberg and Bergman 2009, J. Insect Conserv. 13, 475: counts drop sharply under 19 °C with less sun
 */
export function butterfliesInNumbers(weather: Parameters<typeof butterfliesOnTheWing>[0]): boolean {
  if (!butterfliesOnTheWing(weather)) return false;
  return weather.airTemperatureC >= 19 || weather.sunshineShare >= 0.8;
}

/** Radiation below which insects of the day sit, however warm it is [W/m²]. Ours: about sunrise. */
const darkWm2 = 5;

export type InsectState = 'torpid' | 'basking' | 'flying';

/**
 * What a cool insect does: torpid, basking, or flying. Ours, from the thresholds of schemes and of the few studies;
 * bumblebees fly in cooler air, small dark insects warm sooner.
 *
 * - torpid below 10 °C, or below 13 °C with no direct sun and less than 200 W/m²; in the dark all sit, counted here
 * - flying when `butterfliesOnTheWing`
 * - else basking
 *
 * @param weather.radiationWm2 from sun and sky on the level [W/m²], at least 0
 * @param weather.directSun whether sun falls on the spot
 * @throws DomainError outside the ranges
 * @source ours; 200 W/m² after Vicens and Bosch 2000 (from memory)
 */
export function insectState(weather: {
  readonly airTemperatureC: number;
  readonly sunshineShare: number;
  readonly windSpeedMs: number;
  readonly raining: boolean;
  readonly radiationWm2: number;
  readonly directSun: boolean;
}): InsectState {
  const T = requireInRange('airTemperatureC', weather.airTemperatureC, airTemperature);
  const radiation = requireNotNegative('radiationWm2', weather.radiationWm2, 'W/m²');
  const light = weather.directSun || radiation >= 200;
  if (T < 10 || (T < 13 && !light) || radiation < darkWm2) return 'torpid';
  if (butterfliesOnTheWing(weather)) return 'flying';
  return 'basking';
}

/**
 * Minutes until an insect has warmed up, by Newton's law: t = tau ln[(Te - T0) / (Te - Tf)].
 *
 * @param warming.startC T0, its temperature now [°C]
 * @param warming.surroundingsC Te, what it would warm to in this place [°C]
 * @param warming.flightC Tf, at which it flies [°C]; about 30 for butterflies
 * @param warming.timeConstantMin tau [min], above 0; 1 to 5 for a medium butterfly (from memory)
 * @throws DomainError outside the ranges
 */
export function warmUpTime(warming: {
  readonly startC: number;
  readonly surroundingsC: number;
  readonly flightC: number;
  readonly timeConstantMin: number;
}): { readonly kind: 'warmsUp'; readonly minutes: number } | { readonly kind: 'staysCool' } {
  const T0 = requireInRange('startC', warming.startC, airTemperature);
  const Te = requireInRange('surroundingsC', warming.surroundingsC, { ...airTemperature, max: 90 });
  const Tf = requireInRange('flightC', warming.flightC, airTemperature);
  const tau = requireInRange('timeConstantMin', warming.timeConstantMin, { min: 0, minExclusive: true });
  if (T0 >= Tf) return { kind: 'warmsUp', minutes: 0 };
  if (!(Te > Tf)) return { kind: 'staysCool' };
  return { kind: 'warmsUp', minutes: tau * Math.log((Te - T0) / (Te - Tf)) };
}
