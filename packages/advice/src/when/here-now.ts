/** What it is like here, now, and what comes next: of use without a wanted picture. */
import { parseInstantMs } from '@tepal/formats';
import { requireFinite } from '@tepal/science';
import type { HourAtPlant } from './hour/hours.ts';
import { ANY_CLOSE_UP } from './window/needs.ts';
import { findWindows, type FoundWindow } from './window/windows.ts';
import { hourInWords, windInWords } from './words.ts';

/** An instant stands for at most this long after it [ms]. */
const longestStandMs = 6 * 3_600_000;

/** The answer for a place, with no picture in mind. */
export type HereNow =
  | {
      readonly kind: 'now';
      /** The hour of the forecast that now lies in. */
      readonly time: string;
      /** The hour in a sentence. */
      readonly words: string;
      /** What will have changed in the next hours, a sentence each; empty where nothing much does. */
      readonly next: readonly string[];
      /** Whether sun, wind and rain allow a close-up now: its weakest factor, and why. */
      readonly closeUp: FoundWindow | null;
      /** The next stretches that suit any close-up, in order of time. */
      readonly windows: readonly FoundWindow[];
    }
  | { readonly kind: 'notCovered'; readonly why: string };

/**
 * What it is like at a place at an instant, and when it next suits any close-up.
 *
 * @param hours of the forecast, in order
 * @param nowMs Unix time [ms]
 * @throws DomainError if `nowMs` is not finite
 */
export function hereNow(hours: readonly HourAtPlant[], nowMs: number): HereNow {
  requireFinite('nowMs', nowMs, 'ms');
  const at = hours.findLastIndex(({ timeMs }) => timeMs <= nowMs);
  const now = hours[at];
  if (now === undefined) return { kind: 'notCovered', why: 'The forecast begins later than now.' };
  const endMs = hours[at + 1]?.timeMs ?? now.timeMs + 3_600_000;
  if (nowMs >= endMs || nowMs - now.timeMs > longestStandMs) {
    return { kind: 'notCovered', why: 'The forecast does not reach now: fetch a new one.' };
  }
  const { windows } = findWindows({ siteId: 'here', hours, wanted: [ANY_CLOSE_UP], nowMs });
  const closeUp =
    windows.find(
      ({ from, to }) => (parseInstantMs(from) ?? 0) <= nowMs && (parseInstantMs(to) ?? 0) > nowMs,
    ) ?? null;
  return {
    kind: 'now',
    time: now.time,
    words: hourInWords(now),
    next: changesAfter(hours, at),
    closeUp,
    windows: windows.filter((window) => window !== closeUp).slice(0, 5),
  };
}

/** The first change of each kind within the next twelve hours. */
function changesAfter(hours: readonly HourAtPlant[], at: number): string[] {
  const now = hours[at]!;
  const later = hours.slice(at + 1).filter(({ timeMs }) => timeMs - now.timeMs <= 12 * 3_600_000);
  const first = (is: (hour: HourAtPlant) => boolean, say: (hour: HourAtPlant, inH: string) => string) => {
    const hour = later.find(is);
    if (hour === undefined) return [];
    const hoursOn = Math.round((hour.timeMs - now.timeMs) / 3_600_000);
    return [say(hour, hoursOn <= 1 ? 'within the hour' : `in about ${hoursOn} h`)];
  };
  return [
    ...(now.wind.word === null
      ? []
      : first(
          ({ wind }) => wind.word !== null && wind.word !== now.wind.word,
          (hour, inH) => `The plants will be ${windInWords(hour) ?? 'moving otherwise'} ${inH}.`,
        )),
    ...((now.rainChance ?? 0) >= 0.5
      ? first(
          ({ rainChance }) => rainChance !== null && rainChance < 0.5,
          (_hour, inH) => `The rain should stop ${inH}.`,
        )
      : first(
          ({ rainChance }) => (rainChance ?? 0) >= 0.5,
          (_hour, inH) => `Rain is likely ${inH}.`,
        )),
    ...(now.sun.clearsHorizon
      ? first(
          ({ sun }) => !sun.clearsHorizon,
          (_hour, inH) => `The sun will be gone from the place ${inH}.`,
        )
      : first(
          ({ sun }) => sun.clearsHorizon,
          (_hour, inH) => `The sun will reach the place ${inH}; insects then warm up within minutes.`,
        )),
  ];
}
