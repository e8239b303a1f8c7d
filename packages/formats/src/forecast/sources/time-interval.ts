/** ISO 8601 intervals "start/duration" and "start/end" as Unix times. */
import { parseInstantMs } from '../../time.ts';

export interface TimeInterval {
  readonly fromMs: number;
  /** The first moment after it. */
  readonly toMs: number;
}

const DURATION = /^P(?:(\d+)W)?(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?$/;
const LENGTHS_MS = [7 * 86_400_000, 86_400_000, 3_600_000, 60_000, 1000] as const;

/** A duration [ms]; null where the text is none, is empty, or counts months or years, which have no fixed length. */
export function parseDurationMs(text: string): number | null {
  const parts = DURATION.exec(text)?.slice(1);
  if (parts === undefined || parts.every((part) => part === undefined)) return null;
  return parts.reduce((sum, part, i) => sum + Number(part ?? 0) * (LENGTHS_MS[i] ?? 0), 0);
}

/** An interval; null where the text is none, or ends before it starts. */
export function parseInterval(text: string): TimeInterval | null {
  const [start = '', end = '', ...more] = text.trim().split('/');
  const fromMs = parseInstantMs(start);
  if (fromMs === null || more.length > 0) return null;
  const lengthMs = parseDurationMs(end);
  const toMs = lengthMs === null ? parseInstantMs(end) : fromMs + lengthMs;
  return toMs === null || toMs <= fromMs ? null : { fromMs, toMs };
}
