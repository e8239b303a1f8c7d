/** Parts of days by the sun: as fine as a forecast deserves past its third day. */
import { formatInstant } from '@tepal/formats';
import { solarDate } from '../calendar-days.ts';
import type { HourAtPlant } from '../hour/hours.ts';

/** Lead past which hours are not told apart [h]. */
export const HOURS_TOLD_APART_H = 72;

export const PARTS_OF_DAY = ['early', 'morning', 'midday', 'afternoon', 'evening', 'night'] as const;
export type PartOfDay = (typeof PARTS_OF_DAY)[number];

export const PART_WORDS = ['good', 'fair', 'poor'] as const;
export type PartWord = (typeof PART_WORDS)[number];

/** First hour of each part by the sun's time [h]. Ours. */
const partsFromH: readonly (readonly [number, PartOfDay])[] = [
  [3, 'early'],
  [8, 'morning'],
  [11, 'midday'],
  [14, 'afternoon'],
  [18, 'evening'],
  [22, 'night'],
];

/** The part of the day at a time of the sun, 0 to 24 h. */
export function partOfDay(solarTimeH: number): PartOfDay {
  return partsFromH.findLast(([fromH]) => solarTimeH >= fromH)?.[1] ?? 'night';
}

/** The word for a value 0 to 1; bounds are ours. */
export function partWord(value: number): PartWord {
  if (value >= 0.6) return 'good';
  return value >= 0.3 ? 'fair' : 'poor';
}

/** A run of hours in one part of one day. */
export interface DayPart {
  /** By the sun, "2026-06-14". */
  readonly date: string;
  readonly part: PartOfDay;
  /** The part's own bounds by the sun, Unix time [ms]. */
  readonly fromMs: number;
  readonly toMs: number;
  /** Places in the hours. */
  readonly first: number;
  readonly last: number;
}

/** Begin and end of the part that an instant lies in, by the sun's time at it. Unix time [ms], to the minute. */
function boundsAt(timeMs: number, solarTimeH: number): { readonly fromMs: number; readonly toMs: number } {
  const at = partsFromH.findLastIndex(([fromH]) => solarTimeH >= fromH);
  // The night goes on past the sun's midnight.
  const fromH = partsFromH[at]?.[0] ?? 22 - 24;
  const toH = at < 0 ? partsFromH[0]![0] : (partsFromH[at + 1]?.[0] ?? partsFromH[0]![0] + 24);
  const minute = (ms: number) => Math.round(ms / 60_000) * 60_000;
  return {
    fromMs: minute(timeMs - (solarTimeH - fromH) * 3_600_000),
    toMs: minute(timeMs + (toH - solarTimeH) * 3_600_000),
  };
}

/** The hours past the third day as parts of days, in order; the night is left out unless the sun is up in it. */
export function partsOfDays(hours: readonly HourAtPlant[], longitudeDeg: number): DayPart[] {
  const parts: DayPart[] = [];
  hours.forEach((hour, i) => {
    if (!isFar(hour)) return;
    const part = partOfDay(hour.sun.solarTimeH);
    if (part === 'night' && hour.sun.altitudeDeg < 0) return;
    const date = solarDate(hour.timeMs, longitudeDeg);
    const last = parts.at(-1);
    if (last !== undefined && last.date === date && last.part === part && last.last === i - 1) {
      parts[parts.length - 1] = { ...last, last: i };
    } else parts.push({ date, part, ...boundsAt(hour.timeMs, hour.sun.solarTimeH), first: i, last: i });
  });
  return parts;
}

/** Whether an hour lies past the third day of its forecast. */
export function isFar({ leadH }: HourAtPlant): boolean {
  return leadH !== null && leadH > HOURS_TOLD_APART_H;
}

const partPhrases: Record<PartOfDay, string> = {
  early: 'early on',
  morning: 'in the morning of',
  midday: 'about midday on',
  afternoon: 'in the afternoon of',
  evening: 'in the evening of',
  night: 'in the night of',
};

/** "early on 2026-06-14", "in the afternoon of 2026-06-14". */
export function partInWords({ part, date }: Pick<DayPart, 'part' | 'date'>): string {
  return `${partPhrases[part]} ${date}`;
}

/** The bounds of a part as ISO 8601. */
export function partBounds({ fromMs, toMs }: DayPart): { readonly from: string; readonly to: string } {
  return { from: formatInstant(fromMs), to: formatInstant(toMs) };
}
