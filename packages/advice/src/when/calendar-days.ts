/** Days as the sun makes them, and days of the year: no time zone, so that clock changes and the date line cost nothing. */
import { formatInstant } from '@tepal/formats';

const dayMs = 86_400_000;

/** Day of the year in UTC, 1 to 366. */
export function dayOfYear(timeMs: number): number {
  const year = formatInstant(timeMs).slice(0, 4);
  return Math.floor((timeMs - startOfYearMs(Number(year))) / dayMs) + 1;
}

/** The year in UTC. */
export function yearOf(timeMs: number): number {
  return Number(formatInstant(timeMs).slice(0, 4));
}

/** The first instant of a year in UTC, Unix time [ms], in the Gregorian calendar. */
export function startOfYearMs(year: number): number {
  const y = year - 1;
  const days = 365 * y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400);
  return (days - 719_162) * dayMs;
}

/**
 * The date by the sun at a longitude, "2026-06-14": local mean time. It is within a few hours of any clock's, and
 * the night belongs half to each of two days.
 */
export function solarDate(timeMs: number, longitudeDeg: number): string {
  return formatInstant(timeMs + longitudeDeg * 240_000).slice(0, 10);
}
