/** Hours judged in bulk: columns of numbers in, columns out, so that a worker can do it and hand the arrays over. */
import type { HourAtPlant } from '../hour/hours.ts';
import { FACTORS, FACTOR_KEYS, factorKeysOf } from './factors.ts';
import type { WantedHours } from './needs.ts';

/** The hours of one site as columns. Plain numbers throughout: it can be cloned and transferred. */
export interface HourColumns {
  readonly count: number;
  /** Unix time [ms]. */
  readonly timeMs: Float64Array;
  /** 1 to 366. */
  readonly dayOfYear: Uint16Array;
  /** Value of every factor [0..1], one run of `count` for each of `FACTOR_KEYS`, in their order. */
  readonly values: Float64Array;
}

/** What a picture asks, as the judging reads it. */
export interface NeedColumns {
  /** Places in `FACTOR_KEYS`, in the order in which equals are named. */
  readonly factors: Uint8Array;
  /** 366 values [0..1]; null where the season is not weighed. */
  readonly season: Float64Array | null;
}

/** The hours judged for one picture. */
export interface Judged {
  /** Value of the weakest factor [0..1], one an hour. */
  readonly weakest: Float64Array;
  /** Which it is: a place in `NeedColumns.factors`; one past its end for the season. */
  readonly failing: Uint8Array;
}

/** The hours as columns. */
export function hourColumns(hours: readonly HourAtPlant[]): HourColumns {
  const count = hours.length;
  const values = new Float64Array(count * FACTOR_KEYS.length);
  FACTOR_KEYS.forEach((key, at) => {
    const { value } = FACTORS[key];
    for (let i = 0; i < count; i++) values[at * count + i] = value(hours[i]!);
  });
  return {
    count,
    timeMs: Float64Array.from(hours, ({ timeMs }) => timeMs),
    dayOfYear: Uint16Array.from(hours, ({ dayOfYear }) => dayOfYear),
    values,
  };
}

/** What a picture asks, as columns. */
export function needColumns(wanted: WantedHours): NeedColumns {
  const season = wanted.season ?? null;
  return {
    factors: Uint8Array.from(factorKeysOf(wanted), (key) => FACTOR_KEYS.indexOf(key)),
    season: season === null ? null : Float64Array.from(season.value),
  };
}

/** Room for the judgement of a number of hours, to be used again. */
export function roomForJudging(count: number): Judged {
  return { weakest: new Float64Array(count), failing: new Uint8Array(count) };
}

/**
 * Judges every hour for one picture: its weakest factor, and which that is.
 *
 * @param room written from the start on; at least as long as the hours
 */
export function judgeHours(hours: HourColumns, need: NeedColumns, room: Judged): void {
  const { count, values, dayOfYear } = hours;
  const { weakest, failing } = room;
  weakest.fill(1, 0, count);
  failing.fill(0, 0, count);
  for (let f = 0; f < need.factors.length; f++) {
    const start = need.factors[f]! * count;
    for (let i = 0; i < count; i++) {
      const value = values[start + i]!;
      if (value < weakest[i]!) {
        weakest[i] = value;
        failing[i] = f;
      }
    }
  }
  if (need.season === null) return;
  for (let i = 0; i < count; i++) {
    const value = need.season[dayOfYear[i]! - 1] ?? 0;
    if (value < weakest[i]!) {
      weakest[i] = value;
      failing[i] = need.factors.length;
    }
  }
}

/** Sum of all the factors of an hour that count for a picture: what tells equals apart. */
export function sumOfFactors(hours: HourColumns, need: NeedColumns, i: number): number {
  let sum = need.season === null ? 0 : (need.season[hours.dayOfYear[i]! - 1] ?? 0);
  for (const factor of need.factors) sum += hours.values[factor * hours.count + i]!;
  return sum;
}
