/** The outing under way, and what is written when one begins, is noted in, and ends. */
import type { Outing, WeatherForecast } from '@tepal/notebook';
import { clockWords, instantWords, readersOffsetMin } from '../words/clock.ts';
import type { OpenNotebook } from '../field/notebook.ts';

/** An outing that nobody ended is over after so long [ms]. */
const longestMs = 20 * 3_600_000;

/** The outing that is under way; null where none is. */
export function currentOuting({ room, notebook }: OpenNotebook, nowMs: number): Outing | null {
  const open = room.list(notebook, 'outing').filter(({ startedAt, endedAt }) => {
    const startedMs = Date.parse(startedAt);
    return endedAt === null && startedMs <= nowMs + 60_000 && nowMs - startedMs < longestMs;
  });
  return open.toSorted((a, b) => Date.parse(b.startedAt) - Date.parse(a.startedAt))[0] ?? null;
}

/** An outing that begins now. */
export function beginningOuting(
  id: string,
  nowMs: number,
  siteId: string | null,
  forecast: WeatherForecast | null,
): Outing {
  return {
    id,
    siteId,
    startedAt: instantHere(nowMs),
    endedAt: null,
    forecast,
    found: null,
    feltWindBeaufort: null,
    cameraClockOffsetS: null,
    notes: '',
  };
}

/** The notes with one more line, which begins with the time. */
export function notedAt(notes: string, line: string, nowMs: number): string {
  const said = `${clockWords(nowMs, readersOffsetMin(nowMs))} ${line.trim()}`;
  return notes === '' ? said : `${notes}\n${said}`;
}

/** A moment with this device's own offset, which is that of the place while one is there. */
export const instantHere = (timeMs: number): string => instantWords(timeMs, readersOffsetMin(timeMs));
