/** Drops on the plant, followed through the hours: what rain left, and dew. */
import { dewPointDepressionK, leafWetnessCart2002 } from '@tepal/science';

/** One hour as the drops feel it; null where the forecast does not say. */
export interface HourOfDrops {
  readonly timeMs: number;
  readonly temperatureC: number | null;
  readonly relativeHumidity: number | null;
  readonly dewPointC: number | null;
  readonly forecastWindMs: number | null;
  /** Of a wet leaf; negative is dew [mm/h]. */
  readonly evaporationMmH: number | null;
  /** Chance of rain in the interval [0..1]. */
  readonly rainChance: number | null;
}

export interface Drops {
  /** Chance that drops from rain hang on the plant [0..1]. */
  readonly fromRain: number | null;
  /** Chance of dew [0..1]. */
  readonly fromDew: number | null;
  /** Water that hangs on the leaves from rain and from dew, by the model [mm]. */
  readonly rainWaterMm: number;
  readonly dewWaterMm: number;
  /** Until that water is gone at this hour's rate [h]; 0 where dry, null where it does not dry or is not known. */
  readonly driesInH: number | null;
}

/** Most water that hangs on leaves [mm]; thin dew is 0.1 to 0.3. */
const mostWaterMm = 0.3;
/** Rain's water at which drops are seen for certain [mm]. Ours. */
const plainlyWetMm = 0.05;
/** Dew's water at which it is seen for certain [mm]: the thin end of FS 5.3. */
const plainDewMm = 0.1;
/** Dewfall is seldom above this [mm/h]. Garratt and Segal 1988. */
const mostDewfallMmH = 0.06;
/** Widest gap between two instants that drying is followed across [h]. */
const longestStepH = 6;
/** Water that counts as none [mm]. */
const dryMm = 0.001;

/**
 * Drops through the hours of a forecast, in order of time.
 *
 * Water on the leaves grows by rain and dewfall and falls by evaporation (Penman-Monteith, rs = 0). Dew counts eight
 * tenths from that water, two tenths from the leaf-wetness rule of Kim, Taylor and Gleason 2002, which knows no
 * cloud; the weights are ours. Dew from before the first hour is not known and counts as none.
 */
export function dropsThrough(hours: readonly HourOfDrops[]): Drops[] {
  let rainMm = 0;
  let rained = 0;
  let dewMm = 0;
  let beforeMs: number | null = null;
  return hours.map((hour) => {
    const stepH = beforeMs === null ? 0 : Math.min(longestStepH, (hour.timeMs - beforeMs) / 3_600_000);
    beforeMs = hour.timeMs;
    const rateMmH = hour.evaporationMmH;
    if (rateMmH !== null) {
      rainMm = Math.max(0, rainMm - Math.max(0, rateMmH) * stepH);
      const gained = Math.min(mostDewfallMmH, -rateMmH) * stepH;
      dewMm = Math.min(mostWaterMm, Math.max(0, dewMm + gained));
    }
    if (hour.rainChance !== null && hour.rainChance > 0) {
      rained = rainMm > 0 ? Math.max(rained, hour.rainChance) : hour.rainChance;
      rainMm = mostWaterMm;
    }
    const rule = leafWet(hour);
    return {
      fromRain: hour.rainChance === null ? null : rained * Math.min(1, rainMm / plainlyWetMm),
      fromDew: rateMmH === null || rule === null ? null : 0.8 * Math.min(1, dewMm / plainDewMm) + 0.2 * rule,
      rainWaterMm: rainMm * rained,
      dewWaterMm: dewMm,
      driesInH: driesIn(Math.max(rainMm * rained, dewMm), rateMmH),
    };
  });
}

function driesIn(waterMm: number, rateMmH: number | null): number | null {
  if (waterMm < dryMm) return 0;
  return rateMmH === null || rateMmH <= 0 ? null : waterMm / rateMmH;
}

function leafWet({ temperatureC, relativeHumidity, dewPointC, forecastWindMs }: HourOfDrops): number | null {
  if (temperatureC === null || relativeHumidity === null || dewPointC === null || forecastWindMs === null) {
    return null;
  }
  const found = leafWetnessCart2002({
    temperatureC,
    relativeHumidity,
    windSpeedMs: forecastWindMs,
    dewPointDepressionK: dewPointDepressionK(temperatureC, dewPointC),
  });
  return found.wet ? 1 : 0;
}

export const DEW_WORDS = ['unlikely', 'possible', 'likely'] as const;
export type DewWord = (typeof DEW_WORDS)[number];

/** The word for a chance of dew [0..1]; bounds 0.35 and 0.65 are ours. */
export function dewWord(chance: number): DewWord {
  if (chance < 0.35) return 'unlikely';
  return chance < 0.65 ? 'possible' : 'likely';
}
