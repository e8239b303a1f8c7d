/** How well one hour suits a wanted picture: its factors, each 0 to 1 with a sentence. */
import { plantMotion, plantMotionBoundsMs } from '@tepal/science';
import { dewWord } from '../hour/drops.ts';
import type { HourAtPlant } from '../hour/hours.ts';

/** What a wanted picture asks of the hour. */
export interface WantedHours {
  readonly id: string;
  readonly siteId: string | null;
  readonly light: 'soft' | 'any' | 'sun';
  readonly stillness: 'still' | 'stirring' | 'nodding';
  readonly drops: 'wanted' | 'none' | 'any';
  readonly insects: 'torpid' | 'basking' | 'any' | null;
}

export interface JudgedFactor {
  readonly name: string;
  readonly value: number;
  readonly why: string;
}

/** Light below which no picture is made by daylight, and from which it is enough [lx]: EV 4 and EV 8. Ours. */
const darkLux = 40;
const enoughLux = 640;
/** Lighting ratio up to which light is soft, and from which it is hard [stops]. Ours. */
const softStops = 0.7;
const hardStops = 2;

const ramp = (value: number, from: number, to: number) =>
  Math.min(1, Math.max(0, (value - from) / (to - from)));
const percent = (share: number) => `${Math.round(100 * share)} %`;
const metresASecond = (speed: number) => `${speed.toFixed(1)} m/s`;
const unknown = (name: string, what: string): JudgedFactor => ({
  name,
  value: 0,
  why: `The forecast gives no ${what} for this hour.`,
});

/**
 * The factors of one hour for a wanted picture. The weakest decides.
 *
 * Brightness, rain and stillness always count; softness, drops and insects when asked for. A factor whose input the
 * forecast lacks is 0, and says so: no hour is recommended on what is not known.
 */
export function factorsOf(wanted: WantedHours, hour: HourAtPlant): JudgedFactor[] {
  const factors = [brightness(hour), stillness(wanted.stillness, hour), rain(hour)];
  if (wanted.light !== 'any') factors.push(softness(wanted.light, hour));
  if (wanted.drops !== 'any') factors.push(drops(wanted.drops, hour));
  if (wanted.insects !== null && wanted.insects !== 'any') factors.push(insects(wanted.insects, hour));
  return factors;
}

/** The weakest of the factors: what decides an hour. */
export function weakest(factors: readonly JudgedFactor[]): JudgedFactor {
  return factors.reduce((least, factor) => (factor.value < least.value ? factor : least));
}

function brightness(hour: HourAtPlant): JudgedFactor {
  const lux = hour.light.illuminanceLux;
  if (lux === null) return unknown('brightness', 'cloud');
  const value = ramp(Math.log2(Math.max(lux, 1e-6)), Math.log2(darkLux), Math.log2(enoughLux));
  const amount = lux >= 1000 ? `${(lux / 1000).toFixed(0)} klx` : `${lux.toFixed(0)} lx`;
  const why =
    value === 0 ? `Too dark: ${amount}.` : value < 1 ? `Dim: ${amount}.` : `Bright enough: ${amount}.`;
  return { name: 'brightness', value, why };
}

function stillness(asked: WantedHours['stillness'], hour: HourAtPlant): JudgedFactor {
  const wind = hour.wind.atPlantMs;
  if (wind === null) return unknown('stillness', 'wind');
  const bound = plantMotionBoundsMs[asked];
  const word = plantMotion(wind);
  const value = 1 - ramp(wind, bound, 2 * bound);
  const why =
    value === 1
      ? `The plant is ${word}: ${metresASecond(wind)} at its height.`
      : `The plant is ${word}: ${metresASecond(wind)} at its height, ${asked} means below ${metresASecond(bound)}.`;
  return { name: 'stillness', value, why };
}

function rain(hour: HourAtPlant): JudgedFactor {
  if (hour.rainChance === null) return unknown('rain', 'precipitation');
  const why = hour.rainChance === 0 ? 'No rain.' : `Chance of rain ${percent(hour.rainChance)}.`;
  return { name: 'rain', value: 1 - hour.rainChance, why };
}

function softness(asked: 'soft' | 'sun', hour: HourAtPlant): JudgedFactor {
  const { lightingRatioStops: stops } = hour;
  const share = hour.light.diffuseShare;
  if (stops === null || share === null) return unknown('light', 'cloud');
  const hardness = ramp(stops, softStops, hardStops);
  const value = asked === 'soft' ? 1 - hardness : ramp(stops, 0, softStops);
  const how = hardness === 0 ? 'Soft light' : hardness < 1 ? 'Light with some sun' : 'Hard sun';
  return { name: 'light', value, why: `${how}: ${percent(share)} of it from the sky.` };
}

function drops(asked: 'wanted' | 'none', hour: HourAtPlant): JudgedFactor {
  const { fromRain, fromDew } = hour.drops;
  if (fromRain === null && fromDew === null) return unknown('drops', 'rain or humidity');
  const chance = 1 - (1 - (fromRain ?? 0)) * (1 - (fromDew ?? 0));
  const dew = fromDew === null ? 'Dew not known' : `Dew ${dewWord(fromDew)}`;
  const left =
    fromRain === null
      ? 'rain not known'
      : fromRain > 0
        ? `drops left from rain ${percent(fromRain)}`
        : 'none left from rain';
  return { name: 'drops', value: asked === 'wanted' ? chance : 1 - chance, why: `${dew}, ${left}.` };
}

/** How well a state stands in for the one asked for. Ours. */
const insectFit: Record<'torpid' | 'basking', Record<'torpid' | 'basking' | 'flying', number>> = {
  torpid: { torpid: 1, basking: 0.3, flying: 0 },
  basking: { torpid: 0.3, basking: 1, flying: 0.4 },
};

function insects(asked: 'torpid' | 'basking', hour: HourAtPlant): JudgedFactor {
  if (hour.insects === null) return unknown('insects', 'temperature, cloud or wind');
  const temperature = hour.air.temperatureC;
  const at = temperature === null ? '' : ` at ${temperature.toFixed(0)} °C`;
  return {
    name: 'insects',
    value: insectFit[asked][hour.insects],
    why: `Insects are ${hour.insects}${at}; ${asked} are wanted.`,
  };
}
