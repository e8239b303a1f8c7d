/** When the photographer can go: kept entries as stretches of time, repeated by the clock on the wall. */
import { parseWrittenTime, timeZone, type TimeZone } from '@tepal/formats';
import type { FreeHours } from '@tepal/notebook';

/** A stretch of time, Unix time [ms], end not included. */
export interface FreeSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A kept entry; its time zone goes before its offset. */
export type FreeEntry = Pick<FreeHours, 'from' | 'to' | 'repeats' | 'timeZone'>;

const weekMs = 7 * 86_400_000;

/**
 * The entries as stretches of time within a range, in order, overlapping ones joined.
 *
 * What repeats keeps its time by the clocks of its time zone through their changes; without a zone, or with one that is
 * not known, it keeps the offset that it was written with. Entries whose times are no times, or that end before they begin, are left out: the notebook's own check names them.
 */
export function freeSpans(entries: readonly FreeEntry[], range: FreeSpan): FreeSpan[] {
  const spans = entries.flatMap((entry) => spansOf(entry, range));
  const inRange = spans
    .map(({ fromMs, toMs }) => ({
      fromMs: Math.max(fromMs, range.fromMs),
      toMs: Math.min(toMs, range.toMs),
    }))
    .filter(({ fromMs, toMs }) => toMs > fromMs)
    .sort((one, other) => one.fromMs - other.fromMs);
  const joined: FreeSpan[] = [];
  for (const span of inRange) {
    const last = joined.at(-1);
    if (last !== undefined && span.fromMs <= last.toMs) {
      joined[joined.length - 1] = { fromMs: last.fromMs, toMs: Math.max(last.toMs, span.toMs) };
    } else joined.push(span);
  }
  return joined;
}

function spansOf(entry: FreeEntry, range: FreeSpan): FreeSpan[] {
  const from = parseWrittenTime(entry.from);
  const to = parseWrittenTime(entry.to);
  if (from === null || to === null || from.offsetMinutes === null || to.offsetMinutes === null) return [];
  const writtenMinutes = from.offsetMinutes;
  const fromMs = from.localMs - writtenMinutes * 60_000;
  const lengthMs = to.localMs - to.offsetMinutes * 60_000 - fromMs;
  if (lengthMs <= 0) return [];
  if (entry.repeats === 'once') return [{ fromMs, toMs: fromMs + lengthMs }];
  const zone = zoneOf(entry.timeZone ?? null);
  const spans: FreeSpan[] = [];
  // It repeats from its first week on; one begun before the range may reach into it.
  const first = Math.max(0, Math.floor((range.fromMs - lengthMs - fromMs) / weekMs) - 1);
  for (let week = first; ; week++) {
    const localMs = from.localMs + week * weekMs;
    const offset = zone?.offsetMinutes(localMs - writtenMinutes * 60_000) ?? writtenMinutes;
    const startMs = localMs - offset * 60_000;
    if (startMs >= range.toMs) return spans;
    spans.push({ fromMs: startMs, toMs: startMs + lengthMs });
  }
}

function zoneOf(name: string | null): TimeZone | null {
  if (name === null) return null;
  try {
    return timeZone(name);
  } catch {
    return null;
  }
}
