/** Times as text: ISO 8601 to Unix milliseconds and back, by the proleptic Gregorian calendar, without a clock. */

const MS_PER_DAY = 86_400_000;

/**
 * Days from 1970-01-01 to a date of the proleptic Gregorian calendar.
 *
 * @source Hinnant 2013, chrono-Compatible Low-Level Date Algorithms, days_from_civil
 */
export function daysFromCivil(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yoe = y - era * 400;
  const doy = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const doe = yoe * 365 + Math.floor(yoe / 4) - Math.floor(yoe / 100) + doy;
  return era * 146_097 + doe - 719_468;
}

/** The inverse, civil_from_days of the same source. */
function civilFromDays(days: number): { year: number; month: number; day: number } {
  const z = days + 719_468;
  const era = Math.floor(z / 146_097);
  const doe = z - era * 146_097;
  const yoe = Math.floor(
    (doe - Math.floor(doe / 1460) + Math.floor(doe / 36_524) - Math.floor(doe / 146_096)) / 365,
  );
  const doy = doe - (365 * yoe + Math.floor(yoe / 4) - Math.floor(yoe / 100));
  const mp = Math.floor((5 * doy + 2) / 153);
  const month = mp < 10 ? mp + 3 : mp - 9;
  return {
    year: yoe + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: doy - Math.floor((153 * mp + 2) / 5) + 1,
  };
}

export function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

const ISO =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(Z|[+-]\d{2}(?::?\d{2})?)?$/i;

/** A time as it was written: the moment its digits name in UTC, and its offset where it had one. */
export interface WrittenTime {
  /** The written digits taken as if they were UTC, Unix time [ms]. */
  readonly localMs: number;
  /** Offset from UTC [min, east positive]; null where none was written. */
  readonly offsetMinutes: number | null;
}

/** An ISO 8601 time with or without an offset; null where the text is none, or names a moment that does not exist. */
export function parseWrittenTime(text: string): WrittenTime | null {
  const m = ISO.exec(text.trim());
  if (!m) return null;
  const [year, month, day, hour, minute, second] = [1, 2, 3, 4, 5, 6].map((i) => Number(m[i] ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  // 24:00 is the end of the day in ISO 8601; 60 is a leap second. Both roll over.
  const endOfDay = hour === 24 && minute === 0 && second === 0;
  if ((hour > 23 && !endOfDay) || minute > 59 || second > 60) return null;
  const fraction = m[7] === undefined ? 0 : Math.floor(Number(`0.${m[7]}`) * 1000 + 1e-6);
  const localMs =
    daysFromCivil(year, month, day) * MS_PER_DAY +
    hour * 3_600_000 +
    minute * 60_000 +
    second * 1000 +
    fraction;
  return offsetOf(m[8], localMs);
}

function offsetOf(zone: string | undefined, localMs: number): WrittenTime | null {
  if (zone === undefined) return { localMs, offsetMinutes: null };
  if (zone.toUpperCase() === 'Z') return { localMs, offsetMinutes: 0 };
  const hours = Number(zone.slice(1, 3));
  const minutes = Number(zone.slice(3).replace(':', '') || 0);
  if (hours > 18 || minutes > 59) return null;
  const sign = zone.startsWith('-') ? -1 : 1;
  return { localMs, offsetMinutes: sign * (hours * 60 + minutes) };
}

/** An ISO 8601 time with an offset as Unix time [ms]; null where the text is none. */
export function parseInstantMs(text: string): number | null {
  const written = parseWrittenTime(text);
  if (written === null || written.offsetMinutes === null) return null;
  return written.localMs - written.offsetMinutes * 60_000;
}

const two = (n: number) => String(n).padStart(2, '0');

/** The parts of a moment in UTC. */
export function utcParts(timeMs: number) {
  const days = Math.floor(timeMs / MS_PER_DAY);
  const inDay = timeMs - days * MS_PER_DAY;
  return {
    ...civilFromDays(days),
    hour: Math.floor(inDay / 3_600_000),
    minute: Math.floor(inDay / 60_000) % 60,
    second: Math.floor(inDay / 1000) % 60,
    millisecond: Math.floor(inDay % 1000),
  };
}

/** Unix time [ms] as ISO 8601 in UTC, to the second, or to the millisecond where there are any. */
export function formatInstant(timeMs: number): string {
  const p = utcParts(timeMs);
  const millis = p.millisecond === 0 ? '' : `.${String(p.millisecond).padStart(3, '0')}`;
  const date = `${String(p.year).padStart(4, '0')}-${two(p.month)}-${two(p.day)}`;
  return `${date}T${two(p.hour)}:${two(p.minute)}:${two(p.second)}${millis}Z`;
}
