/** The factors that decide how well an hour suits: each a value from 0 to 1, and a sentence that says why. */
import { plantMotion, plantMotionBoundsMs } from '@tepal/science';
import { dewWord } from '../hour/drops.ts';
import { OPENING_HABITS, type OpeningHabit } from '../hour/flower.ts';
import type { HourAtPlant } from '../hour/hours.ts';
import type { WantedHours } from './needs.ts';

export interface JudgedFactor {
  readonly name: string;
  readonly value: number;
  readonly why: string;
}

/** One thing that can be asked of an hour. */
export interface Factor {
  readonly name: string;
  readonly value: (hour: HourAtPlant) => number;
  readonly why: (hour: HourAtPlant) => string;
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
const unknown = (what: string) => `The forecast gives no ${what} for this hour.`;

const brightness: Factor = {
  name: 'brightness',
  value: ({ light: { illuminanceLux: lux } }) =>
    lux === null ? 0 : ramp(Math.log2(Math.max(lux, 1e-6)), Math.log2(darkLux), Math.log2(enoughLux)),
  why: (hour) => {
    const lux = hour.light.illuminanceLux;
    if (lux === null) return unknown('cloud');
    const value = brightness.value(hour);
    const amount = lux >= 1000 ? `${(lux / 1000).toFixed(0)} klx` : `${lux.toFixed(0)} lx`;
    return value === 0 ? `Too dark: ${amount}.` : value < 1 ? `Dim: ${amount}.` : `Bright enough: ${amount}.`;
  },
};

const rain: Factor = {
  name: 'rain',
  value: ({ rainChance }) => (rainChance === null ? 0 : 1 - rainChance),
  why: ({ rainChance }) =>
    rainChance === null
      ? unknown('precipitation')
      : rainChance === 0
        ? 'No rain.'
        : `Chance of rain ${percent(rainChance)}.`,
};

function stillness(asked: WantedHours['stillness']): Factor {
  const bound = plantMotionBoundsMs[asked];
  return {
    name: 'stillness',
    value: ({ wind: { atPlantMs: wind } }) => (wind === null ? 0 : 1 - ramp(wind, bound, 2 * bound)),
    why: ({ wind: { atPlantMs: wind } }) => {
      if (wind === null) return unknown('wind');
      // One decimal more where one would make the two look the same.
      const alike = wind > bound && metresASecond(wind) === metresASecond(bound);
      const speed = alike ? `${wind.toFixed(2)} m/s` : metresASecond(wind);
      const is = `The plant is ${plantMotion(wind)}: ${speed} at its height`;
      return wind <= bound ? `${is}.` : `${is}, ${asked} means below ${metresASecond(bound)}.`;
    },
  };
}

function light(asked: 'soft' | 'sun'): Factor {
  return {
    name: 'light',
    value: ({ lightingRatioStops: stops }) => {
      if (stops === null) return 0;
      return asked === 'soft' ? 1 - ramp(stops, softStops, hardStops) : ramp(stops, 0, softStops);
    },
    why: ({ lightingRatioStops: stops, light: { diffuseShare: share, sidesStops }, sun }) => {
      if (stops === null || share === null) return unknown('cloud');
      if (!sun.clearsHorizon && sun.horizonDeg > 0 && sun.altitudeDeg > 0)
        return 'Soft light: the sun stands behind the horizon of the place.';
      const hardness = ramp(stops, softStops, hardStops);
      const how = hardness === 0 ? 'Soft light' : hardness < 1 ? 'Light with some sun' : 'Hard sun';
      const sides = sidesStops === null ? '' : `, lit side ${sidesStops.toFixed(1)} stops over the shaded`;
      return `${how}: ${percent(share)} of it from the sky${sides}.`;
    },
  };
}

function drops(asked: 'wanted' | 'none'): Factor {
  return {
    name: 'drops',
    value: ({ drops: { fromRain, fromDew } }) => {
      if (fromRain === null && fromDew === null) return 0;
      const chance = 1 - (1 - (fromRain ?? 0)) * (1 - (fromDew ?? 0));
      return asked === 'wanted' ? chance : 1 - chance;
    },
    why: ({ drops: { fromRain, fromDew } }) => {
      if (fromRain === null && fromDew === null) return unknown('rain or humidity');
      const dew = fromDew === null ? 'Dew not known' : `Dew ${dewWord(fromDew)}`;
      const left =
        fromRain === null
          ? 'rain not known'
          : fromRain > 0
            ? `drops left from rain ${percent(fromRain)}`
            : 'none left from rain';
      return `${dew}, ${left}.`;
    },
  };
}

/** How well a state stands in for the one asked for. Ours. */
const insectFit: Record<'torpid' | 'basking', Record<'torpid' | 'basking' | 'flying', number>> = {
  torpid: { torpid: 1, basking: 0.3, flying: 0 },
  basking: { torpid: 0.3, basking: 1, flying: 0.4 },
};

function insects(asked: 'torpid' | 'basking'): Factor {
  return {
    name: 'insects',
    value: (hour) => (hour.insects === null ? 0 : insectFit[asked][hour.insects]),
    why: ({ insects: state, insectsInNumbers: many, air: { temperatureC: temperature } }) => {
      if (state === null) return unknown('temperature, cloud or wind');
      const at = temperature === null ? '' : ` at ${temperature.toFixed(0)} °C`;
      const few = state === 'flying' && many === false ? ', though few' : '';
      return `Insects are ${state}${few}${at}; ${asked} are wanted.`;
    },
  };
}

const habitWords: Record<OpeningHabit, string> = {
  'needs sun': 'it opens in sun alone',
  morning: 'it is open in the morning',
  'shut by noon': 'it shuts by noon',
};

function open(habit: OpeningHabit): Factor {
  return {
    name: 'flower open',
    value: (hour) => hour.open[habit] ?? 0,
    why: (hour) => {
      const how = hour.open[habit];
      if (how === null) return unknown('cloud');
      const state = how >= 0.7 ? 'open' : how >= 0.3 ? 'half open' : 'shut';
      return `The flower is ${state}: ${habitWords[habit]}.`;
    },
  };
}

/** Every factor by its key, in the order in which equals are named. The season is apart: it hangs on the picture. */
export const FACTORS = {
  brightness,
  'stillness still': stillness('still'),
  'stillness stirring': stillness('stirring'),
  'stillness nodding': stillness('nodding'),
  rain,
  'light soft': light('soft'),
  'light sun': light('sun'),
  'drops wanted': drops('wanted'),
  'drops none': drops('none'),
  'insects torpid': insects('torpid'),
  'insects basking': insects('basking'),
  'open needs sun': open('needs sun'),
  'open morning': open('morning'),
  'open shut by noon': open('shut by noon'),
} as const satisfies Record<string, Factor>;

export type FactorKey = keyof typeof FACTORS;
export const FACTOR_KEYS = Object.keys(FACTORS) as readonly FactorKey[];

/** Which factors count for a wanted picture. Brightness, stillness and rain always do, the rest when asked for. */
export function factorKeysOf(wanted: WantedHours): FactorKey[] {
  const keys: FactorKey[] = ['brightness', `stillness ${wanted.stillness}`, 'rain'];
  if (wanted.light !== 'any') keys.push(`light ${wanted.light}`);
  if (wanted.drops !== 'any') keys.push(`drops ${wanted.drops}`);
  if (wanted.insects !== null && wanted.insects !== 'any') keys.push(`insects ${wanted.insects}`);
  const habit = OPENING_HABITS.find((one) => one === wanted.opens);
  if (habit !== undefined) keys.push(`open ${habit}`);
  return keys;
}

/**
 * The factors of one hour for a wanted picture. The weakest decides.
 *
 * A factor whose input the forecast lacks is 0, and says so: no hour is recommended on what is not known.
 */
export function factorsOf(wanted: WantedHours, hour: HourAtPlant): JudgedFactor[] {
  const judged = factorKeysOf(wanted).map((key): JudgedFactor => {
    const { name, value, why } = FACTORS[key];
    return { name, value: value(hour), why: why(hour) };
  });
  const season = wanted.season ?? null;
  if (season === null) return judged;
  const value = season.value[hour.dayOfYear - 1] ?? 0;
  const word = value >= 0.7 ? 'In season' : value >= 0.3 ? 'At the edge of its season' : 'Out of season';
  return [...judged, { name: 'season', value, why: `${word}. ${season.basis}` }];
}

/** The weakest of the factors: what decides an hour. */
export function weakest(factors: readonly JudgedFactor[]): JudgedFactor {
  return factors.reduce((least, factor) => (factor.value < least.value ? factor : least));
}
