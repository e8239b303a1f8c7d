/** Days as the sun makes them, and days of the year: no time zone, so that clock changes and the date line cost nothing. */
import { formatInstant } from '@tepal/formats';

const dayMs = 86_400_000;

/** Day of the year in UTC, 1 to 366. */
export function dayOfYear(timeMs: number): number {
  return Math.floor((timeMs - startOfYearMs(yearOf(timeMs))) / dayMs) + 1;
}

/** The year in UTC. */
export function yearOf(timeMs: number): number {
  // The mean year is at most a day off: the guess is right or a year off.
  const guess = 1970 + Math.floor(timeMs / dayMs / 365.2425);
  if (timeMs < startOfYearMs(guess)) return guess - 1;
  return timeMs >= startOfYearMs(guess + 1) ? guess + 1 : guess;
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
