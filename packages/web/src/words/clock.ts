/**
 * Times and dates in words, in the time that holds at the place. A document writes its times with an offset; where
 * that is Z the reader's own offset holds, since a bare Z says nothing of the place.
 */

const zonedPattern = /([+-])(\d{2}):?(\d{2})$/;

/**
 * The offset written behind an ISO 8601 time.
 *
 * @param iso time with an offset or Z
 * @returns minutes east of UTC, or null where only Z is written
 */
export function writtenOffsetMin(iso: string): number | null {
  const match = zonedPattern.exec(iso);
  if (match === null) return null;
  const minutes = Number(match[2]) * 60 + Number(match[3]);
  return match[1] === '-' ? -minutes : minutes;
}

/** The reader's own offset at a moment [min east of UTC]. */
export const readersOffsetMin = (timeMs: number): number => -new Date(timeMs).getTimezoneOffset();

const days = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

const shifted = (timeMs: number, offsetMin: number) => new Date(timeMs + offsetMin * 60_000);

/** A moment in ISO 8601 to the second, with an offset: "2026-06-11T05:20:00+01:00". */
export function instantWords(timeMs: number, offsetMin: number): string {
  const away = Math.abs(offsetMin);
  const pair = (value: number) => String(Math.floor(value)).padStart(2, '0');
  const zone = offsetMin === 0 ? 'Z' : `${offsetMin < 0 ? '-' : '+'}${pair(away / 60)}:${pair(away % 60)}`;
  return `${shifted(timeMs, offsetMin).toISOString().slice(0, 19)}${zone}`;
}

/** "5:20", on the clock of the place. */
export function clockWords(timeMs: number, offsetMin: number): string {
  // Rounded first, so that 5:59:40 is 6:00 and not 5:60.
  const at = shifted(Math.round(timeMs / 60_000) * 60_000, offsetMin);
  return `${at.getUTCHours()}:${String(at.getUTCMinutes()).padStart(2, '0')}`;
}

/** "Thursday". */
export const weekdayWord = (timeMs: number, offsetMin: number): string =>
  days[shifted(timeMs, offsetMin).getUTCDay()] ?? '';

/** "Thursday 11 June". */
export function dayWords(timeMs: number, offsetMin: number): string {
  const at = shifted(timeMs, offsetMin);
  return `${days[at.getUTCDay()]} ${at.getUTCDate()} ${months[at.getUTCMonth()]}`;
}

/** The day as "2026-06-11", by which hours are put together. */
export const dayKey = (timeMs: number, offsetMin: number): string =>
  shifted(timeMs, offsetMin).toISOString().slice(0, 10);

/** Midnight at the place that begins the day named by `key` [Unix ms]. */
export const dayStartMs = (key: string, offsetMin: number): number =>
  Date.parse(`${key}T00:00:00Z`) - offsetMin * 60_000;

/** "June 2026", from an ISO date or time. */
export function monthWords(isoDate: string): string {
  const match = /^(\d{4})-(\d{2})/.exec(isoDate);
  if (match === null) return 'Without a date';
  return `${months[Number(match[2]) - 1] ?? ''} ${match[1]}`.trim();
}

/** "11 June", from an ISO date or time. */
export function dateWords(isoDate: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})/.exec(isoDate);
  if (match === null) return isoDate === '' ? 'no date' : isoDate;
  return `${Number(match[3])} ${months[Number(match[2]) - 1] ?? ''}`;
}

/** The time of day in a camera's time, as it stands there: "6:02"; '' where there is none. */
export function cameraClockWords(iso: string | null): string {
  const match = iso === null ? null : /T(\d{2}):(\d{2})/.exec(iso);
  return match === null ? '' : `${Number(match[1])}:${match[2]}`;
}

/**
 * An age in words.
 *
 * @param hours [h], >= 0
 * @returns "new", "2 h old", "3 days old"
 */
export function ageWords(hours: number): string {
  if (hours < 1) return 'less than an hour old';
  if (hours < 48) return `${Math.round(hours)} h old`;
  return `${Math.round(hours / 24)} days old`;
}

/** Time left in words, rounded so that it does not flicker: "a few seconds", "about 40 s", "about 3 min". */
export function leftWords(seconds: number): string {
  if (seconds < 5) return 'a few seconds left';
  if (seconds < 90) return `about ${Math.round(seconds / 5) * 5} s left`;
  return `about ${Math.round(seconds / 60)} min left`;
}
