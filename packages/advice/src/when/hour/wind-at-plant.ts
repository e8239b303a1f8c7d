/** From the forecast's wind to the wind at the plant, with every factor on the way named. */
import {
  gustFactor,
  peakFactorDavenport1964,
  plantMotion,
  shelterInWind,
  speedUpInWind,
  speedUpTaylorLee1984,
  windFromAlong,
  type PlantMotion,
} from '@tepal/science';
import type { SourcedFactor, WayDown } from './way-down.ts';

/** A minute's gust at the plant: 60 crossings. */
const peakFactor = peakFactorDavenport1964(60);

/** Wind at which the speed-up over a landform begins to count, and from which it counts in full [m/s at 10 m]. */
const speedUpFromMs = 6;
const speedUpFullMs = 8;

/** How far published formulas differ: below the plants' tops by a quarter (FS 3.1), above them less. Ours above. */
const spreadInside = 1.25;
const spreadAbove = 1.12;
/** What a rough word for shelter leaves open. Ours. */
const spreadOfWord = 1.3;
/** Taylor and Salmon's shelter against Perera's: a fifth more (FS W-20). */
const deeperShelter = 1.2;
/** Stable air at night: conductances came out half as large (Water 2017, 9, 608, by FS 5.2). */
const stableFactor = 0.5;
/** Stable air in a valley or hollow, where calm air pools. Ours. */
const pooledFactor = 0.3;

export interface WindHere {
  readonly atPlantMs: number;
  /** What the wind at the plant may be, by what the formulas leave open and by the forecast's own range [m/s]. */
  readonly rangeMs: readonly [low: number, high: number];
  readonly gustAtPlantMs: number;
  /** The word for the mean, and for the two ends of the range. */
  readonly word: PlantMotion;
  readonly rangeWords: readonly [low: PlantMotion, high: PlantMotion];
  readonly factors: readonly SourcedFactor[];
}

/** One hour's wind as the forecast gives it. */
export interface ForecastWind {
  /** Mean at the forecast's height [m/s], at least 0. */
  readonly windSpeedMs: number;
  /** Gust at the same height [m/s]; null where the forecast has none. */
  readonly gustMs: number | null;
  /** Whether the air is stable (clear, sun low or down). */
  readonly stable: boolean;
  /** Where it comes FROM [°, 0 to 360]; null or left out where not given: then the worst is taken. */
  readonly windFromDeg?: number | null;
  /** The forecast's own range of the mean [m/s]; null or left out where it gives none. */
  readonly lowMs?: number | null;
  readonly highMs?: number | null;
}

/**
 * The wind at the plant in one hour.
 *
 * A landform's speed-up counts only from 6 m/s in the forecast, in full from 8, and never in stable air: in light wind
 * and at clear dawns the formula does not hold. A hedge shelters only from wind that comes over it. Without the wind's
 * direction, or the landform's bearing, the wind is taken to blow across the landform, and not over the hedge. A gust
 * is the larger of the forecast's, brought down by the same factors, and what the turbulence at the plant gives.
 */
export function windAtPlant(way: WayDown, hour: ForecastWind): WindHere {
  const factors: SourcedFactor[] = [...way.factors];
  const speedUp = speedUpOf(way, hour.windFromDeg ?? null);
  const strength = strengthOf(hour);
  const landform = 1 + speedUp.value * strength;
  if (landform !== 1) factors.push({ name: 'landform', value: landform, source: speedUp.source });
  const shelter = shelterOf(way, hour.windFromDeg ?? null);
  if (shelter.loss > 0) {
    factors.push({ name: 'hedge', value: 1 - shelter.loss, source: shelter.source });
  } else if (way.shelterWord !== null) {
    factors.push(way.shelterWord);
  }
  const product = factors.reduce((all, { value }) => all * value, 1);
  const atPlantMs = hour.windSpeedMs * product;
  const own = atPlantMs * gustFactor(way.turbulenceIntensity, peakFactor);
  const spread = (way.inside ? spreadInside : spreadAbove) * (way.shelterWord === null ? 1 : spreadOfWord);
  const calmer = hour.stable ? (way.pools ? pooledFactor : stableFactor) : 1;
  const deeper = shelter.loss > 0 ? Math.max(0, 1 - deeperShelter * shelter.loss) / (1 - shelter.loss) : 1;
  // Between light and strong wind the landform counts in part: none of it, or all, is as likely.
  const flat = strength > 0 && strength < 1 ? 1 / landform : 1;
  const full = strength < 1 && !hour.stable && hour.windSpeedMs > 4 ? (1 + speedUp.value) / landform : 1;
  const low = Math.min(hour.windSpeedMs, hour.lowMs ?? Infinity);
  const high = Math.max(hour.windSpeedMs, hour.highMs ?? 0);
  const rangeMs = [
    ((Math.max(0, low) * product) / spread) * calmer * deeper * flat,
    high * product * spread * full,
  ] as const;
  return {
    atPlantMs,
    rangeMs,
    gustAtPlantMs: Math.max(own, (hour.gustMs ?? 0) * product),
    word: plantMotion(atPlantMs),
    rangeWords: [plantMotion(rangeMs[0]), plantMotion(rangeMs[1])],
    factors,
  };
}

/** How far a landform's speed-up counts, 0 to 1. */
function strengthOf({ windSpeedMs, stable }: ForecastWind): number {
  if (stable) return 0;
  return Math.min(1, Math.max(0, (windSpeedMs - speedUpFromMs) / (speedUpFullMs - speedUpFromMs)));
}

function speedUpOf({ rise }: WayDown, windFromDeg: number | null): { value: number; source: string } {
  if (rise === null) return { value: 0, source: '' };
  const { form, heightM, halfLengthM, upslopeDeg, atHeightM, inWords: size } = rise;
  if (upslopeDeg === null || windFromDeg === null) {
    return {
      value: speedUpTaylorLee1984({ form, heightM, halfLengthM }, atHeightM),
      source: `Taylor and Lee 1984, wind across it, ${size}`,
    };
  }
  const value = speedUpInWind({ form, heightM, halfLengthM, upslopeDeg }, atHeightM, windFromDeg);
  const off = Math.round(
    (Math.acos(Math.min(1, Math.abs(windFromAlong(windFromDeg, upslopeDeg)))) * 180) / Math.PI,
  );
  const how = form === 'hill' || off < 10 ? 'wind across it' : `wind ${off}° off straight across`;
  return { value, source: `Taylor and Lee 1984, ${how}, ${size}` };
}

function shelterOf(way: WayDown, windFromDeg: number | null): { loss: number; source: string } {
  const { barrier } = way;
  if (barrier === null || windFromDeg === null) return { loss: 0, source: '' };
  const loss = Math.min(0.95, shelterInWind(barrier.is, barrier.at, windFromDeg));
  return {
    loss,
    source: barrier.source,
  };
}
