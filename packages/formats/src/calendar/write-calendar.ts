/**
 * Windows as an iCalendar file, for whatever calendar the photographer keeps: a title that gives no place away, an
 * alarm, and no field of place at all.
 *
 * @source RFC 5545
 */
import { DomainError, requireFinite } from '@tepal/science';
import { contentLine, escapedText } from './content-line.ts';
import type { ReleasedText } from './released-text.ts';
import { localStamp, timeZone, timeZoneLines, type TimeZone } from './time-zone.ts';

export interface CalendarEvent {
  /**
   * What the event is, the same each time it is written: the same key gives the same UID, so that a calendar replaces
   * what it has. It does not stand in the file.
   */
  readonly key: string;
  readonly title: ReleasedText;
  readonly note: ReleasedText | null;
  /** Unix time [ms], written to the second. */
  readonly fromMs: number;
  readonly toMs: number;
  readonly alarms: readonly CalendarAlarm[];
}

/** So long before the start [ms], or at a moment of its own (the evening before). */
export type CalendarAlarm = { readonly beforeMs: number } | { readonly atMs: number };

export interface CalendarOptions {
  /** When the file is made, Unix time [ms]. */
  readonly madeAtMs: number;
  /** IANA name of the zone that times are written in; null for UTC. */
  readonly zone: string | null;
}

const YEAR_MS = 366 * 86_400_000;

/**
 * An iCalendar file of events, in order of start. They do not block the time that they lie in, and are marked private.
 *
 * @throws DomainError where an event does not end after it starts, an alarm is no time, two events share a key, or the
 *   zone is not known
 */
export function writeCalendar(events: readonly CalendarEvent[], options: CalendarOptions): string {
  const { madeAtMs, zone } = options;
  requireFinite('madeAtMs', madeAtMs, 'ms');
  const known = zone === null ? null : timeZone(zone);
  const keys = new Set(events.map(({ key }) => key));
  if (keys.size < events.length) {
    throw new DomainError('outOfRange', 'a key of its own for every event', 'key', 'the same key twice');
  }
  const inOrder = [...events].sort((a, b) => a.fromMs - b.fromMs || (a.key < b.key ? -1 : 1));
  return [
    contentLine('BEGIN', 'VCALENDAR'),
    contentLine('VERSION', '2.0'),
    contentLine('PRODID', '-//Tepal//Tepal//EN'),
    contentLine('CALSCALE', 'GREGORIAN'),
    known === null ? '' : zoneOf(known, inOrder),
    ...inOrder.map((event) => eventLines(event, madeAtMs, known)),
    contentLine('END', 'VCALENDAR'),
  ].join('');
}

function zoneOf(zone: TimeZone, events: readonly CalendarEvent[]): string {
  const first = events[0];
  if (first === undefined) return '';
  const lastMs = Math.max(...events.map(({ toMs }) => toMs));
  return timeZoneLines(zone, wholeSecond(first.fromMs) - YEAR_MS, lastMs + YEAR_MS);
}

function eventLines(event: CalendarEvent, madeAtMs: number, zone: TimeZone | null): string {
  const { key, title, note, alarms } = event;
  const fromMs = requireFinite('fromMs', event.fromMs, 'ms');
  const toMs = requireFinite('toMs', event.toMs, 'ms');
  if (!(wholeSecond(toMs) > wholeSecond(fromMs))) {
    throw new DomainError('wrongOrder', 'an end after the start', 'toMs', toMs);
  }
  const time = (name: string, timeMs: number) =>
    zone === null || shownTwice(zone, timeMs)
      ? contentLine(name, utcStamp(timeMs))
      : contentLine(`${name};TZID=${zone.name}`, localStamp(wholeSecond(timeMs), zone.offsetMinutes(timeMs)));
  return [
    contentLine('BEGIN', 'VEVENT'),
    contentLine('UID', uidOf(key)),
    contentLine('DTSTAMP', utcStamp(madeAtMs)),
    time('DTSTART', fromMs),
    time('DTEND', toMs),
    contentLine('SUMMARY', escapedText(title)),
    note === null ? '' : contentLine('DESCRIPTION', escapedText(note)),
    contentLine('CLASS', 'PRIVATE'),
    contentLine('TRANSP', 'TRANSPARENT'),
    ...alarms.map((alarm) => alarmLines(alarm, title)),
    contentLine('END', 'VEVENT'),
  ].join('');
}

function alarmLines(alarm: CalendarAlarm, title: ReleasedText): string {
  return [
    contentLine('BEGIN', 'VALARM'),
    contentLine('ACTION', 'DISPLAY'),
    contentLine('DESCRIPTION', escapedText(title)),
    'atMs' in alarm
      ? contentLine('TRIGGER;VALUE=DATE-TIME', utcStamp(requireFinite('atMs', alarm.atMs, 'ms')))
      : contentLine('TRIGGER', beforeText(requireFinite('beforeMs', alarm.beforeMs, 'ms'))),
    contentLine('END', 'VALARM'),
  ].join('');
}

/** A negative duration, or a positive one for a time after the start. */
function beforeText(beforeMs: number): string {
  const seconds = Math.round(Math.abs(beforeMs) / 1000);
  const [days, hours, minutes, rest] = [
    Math.floor(seconds / 86_400),
    Math.floor(seconds / 3600) % 24,
    Math.floor(seconds / 60) % 60,
    seconds % 60,
  ];
  const part = (n: number, letter: string) => (n === 0 ? '' : `${n}${letter}`);
  const time = part(hours, 'H') + part(minutes, 'M') + part(rest, 'S');
  const day = part(days, 'D');
  const text = day === '' && time === '' ? 'PT0S' : `P${day}${time === '' ? '' : `T${time}`}`;
  return beforeMs > 0 && seconds > 0 ? `-${text}` : text;
}

/** Whether the clocks show this local time at another moment too; readers differ in which they take it for. */
function shownTwice(zone: TimeZone, timeMs: number): boolean {
  const now = zone.offsetMinutes(timeMs);
  return [-3, 3].some((hours) => {
    const other = zone.offsetMinutes(timeMs + hours * 3_600_000);
    return other !== now && zone.offsetMinutes(timeMs + (now - other) * 60_000) === other;
  });
}

const wholeSecond = (timeMs: number): number => Math.floor(timeMs / 1000) * 1000;
const utcStamp = (timeMs: number): string => `${localStamp(wholeSecond(timeMs), 0)}Z`;

/**
 * A UUID of version 8 made from a key: two FNV-1a sums of 64 bits. It names, it does not hide: a key is never secret.
 *
 * @source Fowler, Noll, Vo, FNV-1a (RFC 9923); RFC 9562, 5.8; RFC 7986, 5.3
 */
function uidOf(key: string): string {
  const octets = new TextEncoder().encode(key);
  const sum = (start: bigint) => {
    let hash = start;
    for (const octet of octets) hash = BigInt.asUintN(64, (hash ^ BigInt(octet)) * 0x100000001b3n);
    return hash.toString(16).padStart(16, '0');
  };
  const hex = sum(0xcbf29ce484222325n) + sum(0x6c62272e07bb0142n);
  const variant = ((Number.parseInt(hex.charAt(16), 16) & 3) | 8).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20)}`;
}
