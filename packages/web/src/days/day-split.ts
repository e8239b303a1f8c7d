/** A forecast's hours put together by day, on the clock of the place. */
import { HOURS_TOLD_APART_H } from '@tepal/advice';
import type { WhenDocument, WhenHour, WhenMiss, WhenWindow } from '@tepal/formats';
import { dayKey, dayStartMs, readersOffsetMin, writtenOffsetMin } from '../words/clock.ts';

export interface Timed {
  readonly timeMs: number;
  readonly hour: WhenHour;
}

export interface Day {
  readonly key: string;
  readonly startMs: number;
  readonly offsetMin: number;
  /** In order of time; at least one. */
  readonly hours: readonly Timed[];
  /** The hours with the last one before and the first one after them, so that lines reach midnight. */
  readonly around: readonly Timed[];
  readonly windows: readonly WhenWindow[];
  readonly misses: readonly WhenMiss[];
}

/** A reader's clock this far from the sun's at the place is the clock of somewhere else [min]. */
const elsewhereMin = 150;

/**
 * The clock of the place [min east of UTC]: the one its document is written in, else the reader's; where the reader
 * is plainly elsewhere, the whole hour nearest to the sun's time at the place.
 */
export function offsetOf(when: WhenDocument): number {
  const first = when.hours[0]?.time;
  if (first === undefined) return 0;
  const written = writtenOffsetMin(first);
  if (written !== null) return written;
  const readers = readersOffsetMin(Date.parse(first));
  // The earth turns a degree in four minutes.
  const sunsMin = when.site.longitudeDeg * 4;
  return Math.abs(readers - sunsMin) <= elsewhereMin ? readers : Math.round(sunsMin / 60) * 60;
}

/**
 * The days of a document, those without an hour left out.
 *
 * @param when the document
 * @param offsetMin the clock of the place where it is known better than from the document [min east of UTC]
 * @returns days in order; a window belongs to the day in which it begins
 */
export function splitDays(when: WhenDocument, offsetMin = offsetOf(when)): readonly Day[] {
  const keyOf = (iso: string) => dayKey(Date.parse(iso), offsetMin);
  const byKey = new Map<string, Timed[]>();
  const inOrder = when.hours
    .map((hour) => ({ timeMs: Date.parse(hour.time), hour }))
    .toSorted((a, b) => a.timeMs - b.timeMs);
  for (const { timeMs, hour } of inOrder) {
    const key = dayKey(timeMs, offsetMin);
    byKey.set(key, [...(byKey.get(key) ?? []), { timeMs, hour }]);
  }
  return [...byKey.entries()]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, hours], index, all) => ({
      key,
      startMs: dayStartMs(key, offsetMin),
      offsetMin,
      hours,
      around: [
        ...(all[index - 1]?.[1].slice(-1) ?? []),
        ...hours,
        ...(all[index + 1]?.[1].slice(0, 1) ?? []),
      ],
      windows: when.windows.filter(({ from }) => keyOf(from) === key),
      misses: when.misses.filter(({ best }) => keyOf(best) === key),
    }));
}

/** The sun's altitude below which no hour is worth drawing [deg]: about the end of civil twilight. */
const drawnFromDeg = -6.5;

/**
 * The hours of the clock that every ribbon of the page shows, so that days can be compared.
 *
 * @returns whole even hours [h of the day], from first light to last; the whole day where light never ends or never comes
 */
export function shownHours(days: readonly Day[]): { readonly from: number; readonly to: number } {
  let from = 24;
  let to = 0;
  for (const { startMs, hours, windows } of days) {
    const ofDay = (timeMs: number) => (timeMs - startMs) / 3_600_000;
    for (const { timeMs, hour } of hours) {
      if (hour.sun.altitudeDeg < drawnFromDeg) continue;
      from = Math.min(from, ofDay(timeMs));
      to = Math.max(to, ofDay(timeMs));
    }
    for (const window of windows) {
      from = Math.min(from, ofDay(Date.parse(window.from)));
      to = Math.max(to, Math.min(24, ofDay(Date.parse(window.to))));
    }
  }
  if (from >= to) return { from: 0, to: 24 };
  return { from: Math.floor(from / 2) * 2, to: Math.min(24, Math.ceil(to / 2) * 2) };
}

/**
 * A number between two hours, straight from one to the next.
 *
 * @param hours in order of time
 * @param timeMs the moment
 * @param read the number of an hour; null where the forecast lacked it
 * @returns null outside the hours, or where a neighbour is null
 */
export function between(
  hours: readonly Timed[],
  timeMs: number,
  read: (hour: WhenHour) => number | null,
): number | null {
  const after = hours.findIndex((one) => one.timeMs >= timeMs);
  const next = hours[after];
  if (next === undefined) return null;
  if (next.timeMs === timeMs) return read(next.hour);
  const before = hours[after - 1];
  if (before === undefined) return null;
  const a = read(before.hour);
  const b = read(next.hour);
  if (a === null || b === null) return null;
  return a + ((b - a) * (timeMs - before.timeMs)) / (next.timeMs - before.timeMs);
}

/** The near hours as days; the far ones are told in parts. A window of a part of a day belongs to those. */
export function nearDays(when: WhenDocument, offsetMin: number): readonly Day[] {
  const hours = when.hours.filter(({ leadH }) => (leadH ?? 0) <= HOURS_TOLD_APART_H);
  const windows = when.windows.filter(({ part }) => (part ?? null) === null);
  return splitDays({ ...when, hours, windows }, offsetMin).filter(
    // A day of which only the dark hours are left has nothing to draw.
    (day) =>
      day.windows.length > 0 ||
      day.hours.some(({ hour }) => hour.sun.altitudeDeg > -6) ||
      day.hours.length > 12,
  );
}
