/**
 * A time zone as a calendar carries it: the changes of the clocks about the events, each written out.
 *
 * @source RFC 5545, 3.6.5
 */
import { DomainError } from '@tepal/science';
import { utcParts } from '../time.ts';
import { contentLine } from './content-line.ts';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** A zone by its IANA name, with its offset at any moment [min, east positive]. */
export interface TimeZone {
  readonly name: string;
  offsetMinutes(timeMs: number): number;
}

/**
 * A zone by the rules that the platform knows.
 *
 * @param name IANA name: "Europe/London"
 * @throws DomainError where the platform knows none of that name
 */
export function timeZone(name: string): TimeZone {
  const format = formatFor(name);
  return {
    name,
    offsetMinutes(timeMs) {
      const parts = Object.fromEntries(format.formatToParts(timeMs).map(({ type, value }) => [type, value]));
      const text = parts['timeZoneName'] ?? '';
      const m = /GMT(?:([+-])(\d{2}):(\d{2})(?::(\d{2}))?)?/.exec(text);
      const minutes = Number(m?.[2] ?? 0) * 60 + Number(m?.[3] ?? 0) + Number(m?.[4] ?? 0) / 60;
      return m?.[1] === '-' ? -minutes : minutes;
    },
  };
}

function formatFor(name: string): Intl.DateTimeFormat {
  try {
    return new Intl.DateTimeFormat('en-GB', { timeZone: name, timeZoneName: 'longOffset', year: 'numeric' });
  } catch {
    throw new DomainError('notOneOf', 'the IANA name of a time zone, "Europe/London"', 'zone', name);
  }
}

/** A local date and time as iCalendar writes it, without zone. */
export function localStamp(timeMs: number, offsetMinutes: number): string {
  const p = utcParts(timeMs + offsetMinutes * 60_000);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${String(p.year).padStart(4, '0')}${two(p.month)}${two(p.day)}T${two(p.hour)}${two(p.minute)}${two(p.second)}`;
}

/** The VTIMEZONE that covers a span: what held at its start, and every change of the clocks in it. */
export function timeZoneLines(zone: TimeZone, fromMs: number, toMs: number): string {
  const changes = changesOf(zone, fromMs, toMs);
  const first = zone.offsetMinutes(fromMs);
  const least = Math.min(first, ...changes.map(({ to }) => to));
  const part = (startMs: number, from: number, to: number) => {
    const kind = to > least ? 'DAYLIGHT' : 'STANDARD';
    return [
      contentLine('BEGIN', kind),
      contentLine('DTSTART', localStamp(startMs, from)),
      contentLine('TZOFFSETFROM', offsetText(from)),
      contentLine('TZOFFSETTO', offsetText(to)),
      contentLine('END', kind),
    ].join('');
  };
  return [
    contentLine('BEGIN', 'VTIMEZONE'),
    contentLine('TZID', zone.name),
    part(fromMs, first, first),
    ...changes.map(({ atMs, from, to }) => part(atMs, from, to)),
    contentLine('END', 'VTIMEZONE'),
  ].join('');
}

interface Change {
  readonly atMs: number;
  readonly from: number;
  readonly to: number;
}

function changesOf(zone: TimeZone, fromMs: number, toMs: number): readonly Change[] {
  const changes: Change[] = [];
  let before = zone.offsetMinutes(fromMs);
  for (let dayMs = fromMs; dayMs < toMs; dayMs += DAY_MS) {
    const to = zone.offsetMinutes(dayMs + DAY_MS);
    if (to === before) continue;
    let low = dayMs;
    let high = dayMs + DAY_MS;
    while (high - low > 1000) {
      const middle = Math.floor((low + high) / 2000) * 1000;
      if (zone.offsetMinutes(middle) === before) low = middle;
      else high = middle;
    }
    changes.push({ atMs: high, from: before, to });
    before = to;
  }
  return changes;
}

function offsetText(minutes: number): string {
  const seconds = Math.round(Math.abs(minutes) * 60);
  const two = (n: number) => String(n).padStart(2, '0');
  const tail = seconds % 60 === 0 ? '' : two(seconds % 60);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(seconds / 3600))}${two(Math.floor(seconds / 60) % 60)}${tail}`;
}
