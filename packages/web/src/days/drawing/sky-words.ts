/** Drops, rain and warmth in words, each above the hours where it holds. */
import { dewWord } from '@tepal/advice';
import { between, type Timed } from '../day-split.ts';

export interface SkyWord {
  readonly timeMs: number;
  readonly words: string;
}

/** Drops count as there from here on, and as possible from here on [chance]. */
const likely = 0.6;
const possible = 0.25;

/**
 * The few words that a day's ribbon carries.
 *
 * @param hours the day's hours, in order
 * @param fromMs where the ribbon begins
 * @param toMs where it ends
 * @returns in order of time
 */
export function skyWords(hours: readonly Timed[], fromMs: number, toMs: number): readonly SkyWord[] {
  const shown = hours.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs);
  return [...dew(shown), ...rain(shown), ...warmth(shown, fromMs, toMs)].toSorted(
    (a, b) => a.timeMs - b.timeMs,
  );
}

function dew(hours: readonly Timed[]): readonly SkyWord[] {
  const first = hours[0];
  const chance = first?.hour.drops.fromDew ?? null;
  if (first === undefined || chance === null) return [];
  const word = dewWord(chance);
  if (word === 'unlikely') return [{ timeMs: first.timeMs, words: 'no dew' }];
  const drying = hours.find(({ hour }) => {
    const now = hour.drops.fromDew;
    return now !== null && now < chance && dewWord(now) !== word;
  });
  return [
    { timeMs: first.timeMs, words: `dew ${word}` },
    ...(drying === undefined ? [] : [{ timeMs: drying.timeMs, words: 'drying' }]),
  ];
}

/** The chance of rain that newer documents carry beside the contract's keys; null where it is not said. */
function rainChance(hour: object): number | null {
  const chance: unknown = 'rainChance' in hour ? hour.rainChance : null;
  return typeof chance === 'number' ? chance : null;
}

function rain(hours: readonly Timed[]): readonly SkyWord[] {
  const falling = hours.find(({ hour }) => (rainChance(hour) ?? 0) >= 0.5);
  return [...(falling === undefined ? [] : [{ timeMs: falling.timeMs, words: 'rain' }]), ...rainDrops(hours)];
}

function rainDrops(hours: readonly Timed[]): readonly SkyWord[] {
  const wet = hours.find(({ hour }) => (hour.drops.fromRain ?? 0) >= possible);
  if (wet === undefined) return [];
  const words = (wet.hour.drops.fromRain ?? 0) >= likely ? 'drops from rain' : 'drops from rain possible';
  const after = hours.find(
    ({ timeMs, hour }) => timeMs > wet.timeMs && (hour.drops.fromRain ?? 0) < possible,
  );
  return [
    { timeMs: wet.timeMs, words },
    ...(after === undefined ? [] : [{ timeMs: after.timeMs, words: 'leaves dry' }]),
  ];
}

/** Warmth at the warmest hour, and at the end of the day. */
function warmth(hours: readonly Timed[], fromMs: number, toMs: number): readonly SkyWord[] {
  const read = (timeMs: number) => between(hours, timeMs, (hour) => hour.air.temperatureC);
  const known = hours.filter(({ hour }) => hour.air.temperatureC !== null);
  const warmest = known.toSorted(
    (a, b) => (b.hour.air.temperatureC ?? 0) - (a.hour.air.temperatureC ?? 0),
  )[0];
  const span = toMs - fromMs;
  const evening = toMs - span * 0.14;
  const at = (timeMs: number): readonly SkyWord[] => {
    const degrees = read(timeMs);
    return degrees === null ? [] : [{ timeMs, words: `${Math.round(degrees)} °C` }];
  };
  const midday = warmest === undefined || evening - warmest.timeMs < span * 0.12 ? [] : at(warmest.timeMs);
  return [...midday, ...at(evening)];
}
