/** Free hours of the week, as typed, on the clock on the wall. */
import type { FreeHours } from '@tepal/notebook';
import { readersOffsetMin } from '../../words/clock.ts';

export const WEEKDAYS = [
  'Monday',
  'Tuesday',
  'Wednesday',
  'Thursday',
  'Friday',
  'Saturday',
  'Sunday',
] as const;
export type Weekday = (typeof WEEKDAYS)[number];

const dayMs = 86_400_000;

/** "+01:00". */
function offsetText(offsetMin: number): string {
  const size = Math.abs(offsetMin);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${offsetMin < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/**
 * Weekly entries for some weekdays, beginning with the week that a moment lies in.
 *
 * @param fromClock "05:00"; toClock "08:30", the next day's where it is not later than `fromClock`
 * @param nowMs Unix time [ms]
 * @param timeZone the IANA name of the wall's zone; null where the device does not say
 */
export function weeklyEntries(
  week: { readonly days: readonly Weekday[]; readonly fromClock: string; readonly toClock: string },
  at: { readonly nowMs: number; readonly timeZone: string | null; readonly idOf: () => string },
): readonly FreeHours[] {
  const local = new Date(at.nowMs + readersOffsetMin(at.nowMs) * 60_000);
  const mondayMs =
    Date.UTC(local.getUTCFullYear(), local.getUTCMonth(), local.getUTCDate()) -
    ((local.getUTCDay() + 6) % 7) * dayMs;
  const written = (dateMs: number, clock: string) => {
    const bare = `${new Date(dateMs).toISOString().slice(0, 10)}T${clock}:00`;
    return bare + offsetText(readersOffsetMin(Date.parse(`${bare}Z`)));
  };
  return week.days.map((day) => {
    const dateMs = mondayMs + WEEKDAYS.indexOf(day) * dayMs;
    const endMs = week.toClock > week.fromClock ? dateMs : dateMs + dayMs;
    return {
      id: at.idOf(),
      from: written(dateMs, week.fromClock),
      to: written(endMs, week.toClock),
      repeats: 'weekly',
      label: day,
      timeZone: at.timeZone,
    };
  });
}

/** "Saturday, 5:00 to 21:00, every week". */
export function freeWords({ from, to, repeats, label }: FreeHours): string {
  const clock = (iso: string) => iso.slice(11, 16).replace(/^0(?=\d)/, '');
  const day = label ?? WEEKDAYS[(new Date(`${from.slice(0, 10)}T12:00:00Z`).getUTCDay() + 6) % 7] ?? '';
  const every = repeats === 'weekly' ? 'every week' : `on ${from.slice(0, 10)} only`;
  return `${day}, ${clock(from)} to ${clock(to)}, ${every}`;
}
