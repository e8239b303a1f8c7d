/** Spans of hours that suit wanted pictures, and what is missing where none does. */
import { formatInstant, type WhenMiss, type WhenWindow } from '@tepal/formats';
import { plantMotionBoundsMs, requireFinite } from '@tepal/science';
import type { FreeSpan } from './free-hours.ts';
import type { HourAtPlant } from '../hour/hours.ts';
import { lullAtPlant, type LullHere } from '../hour/lull.ts';
import { factorsOf, weakest } from './factors.ts';
import { hintsFor, onTheWay } from './hints.ts';
import {
  hourColumns,
  judgeHours,
  needColumns,
  roomForJudging,
  sumOfFactors,
  type HourColumns,
} from './judging.ts';
import type { WantedHours } from './needs.ts';
import {
  isFar,
  partsOfDays,
  partWord,
  type DayPart,
  type PartOfDay,
  type PartWord,
} from './parts-of-days.ts';

/** An hour suits when its weakest factor is at least this [0..1]. Ours. */
export const SUITABLE = 0.5;
/** Widest gap between two instants that one window spans [ms]; an instant stands for at most an hour after it. */
const hourMs = 3_600_000;

/** A window with what stands beside the contract's keys. */
export interface FoundWindow extends WhenWindow {
  /** Its best hour, ISO 8601; the factors are this hour's. */
  readonly best: string;
  /** The factor that decides. */
  readonly weakest: string;
  /** Lulls in which the wind stays below what the picture can bear, in the best hour; null where not known. */
  readonly lull: LullHere | null;
  /** Past the third day: which part of which day, in one word how good. Null where hours are told apart. */
  readonly part: { readonly date: string; readonly part: PartOfDay; readonly word: PartWord } | null;
  /** How far ahead the forecast looks at the best hour [h]; null where not known. */
  readonly leadH: number | null;
  readonly hints: readonly string[];
}

export interface FoundMiss extends WhenMiss {
  /** Value of the failing factor at the best hour [0..1]. */
  readonly value: number;
  readonly hints: readonly string[];
}

export interface FoundWindows {
  readonly windows: FoundWindow[];
  readonly misses: FoundMiss[];
}

export interface WindowRequest {
  /** The site that the hours are for; wanted pictures of other sites are left out. */
  readonly siteId: string;
  readonly hours: readonly HourAtPlant[];
  readonly wanted: readonly WantedHours[];
  /** Unix time [ms]. */
  readonly nowMs: number;
  /** When the photographer can go, in order; null or left out for any time. */
  readonly free?: readonly FreeSpan[] | null;
  /** Of the site [°], for the dates of parts of days; 0 where left out. */
  readonly longitudeDeg?: number;
}

/** Hours from `first` to `last`, the best of them, and the part of the day that they are. */
interface Span {
  readonly first: number;
  readonly last: number;
  readonly best: number;
  readonly part: DayPart | null;
}

interface Site {
  readonly siteId: string;
  readonly hours: readonly HourAtPlant[];
  readonly columns: HourColumns;
  readonly parts: readonly DayPart[];
  /** Whether each hour lies in free time, in whole or in part. */
  readonly free: readonly boolean[] | null;
  readonly freeSpans: readonly FreeSpan[] | null;
}

/**
 * The windows for each wanted picture at a site, in order of time, and a miss for each that has none.
 *
 * Hours before `nowMs` are left out, unless the whole forecast lies in the past. A window's suitability and factors
 * are those of its best hour, named in `best`; a miss names the best hour of all and the factor that fails there. Past
 * the third day a window is a part of a day, and its factors are those of its middling hour.
 *
 * @throws DomainError if `nowMs` is not finite
 */
export function findWindows(request: WindowRequest): FoundWindows {
  const nowMs = requireFinite('nowMs', request.nowMs, 'ms');
  const ahead = request.hours.filter((hour) => hour.timeMs + hourMs > nowMs);
  const hours = ahead.length > 0 ? ahead : request.hours;
  const found: FoundWindows = { windows: [], misses: [] };
  if (hours.length === 0) return found;
  const freeSpans = request.free ?? null;
  const site: Site = {
    siteId: request.siteId,
    hours,
    columns: hourColumns(hours),
    parts: partsOfDays(hours, request.longitudeDeg ?? 0),
    free: freeSpans === null ? null : hours.map(({ timeMs }) => isFree(timeMs, freeSpans)),
    freeSpans,
  };
  const room = roomForJudging(hours.length);
  for (const wanted of request.wanted) {
    if (wanted.siteId !== null && wanted.siteId !== request.siteId) continue;
    const need = needColumns(wanted);
    judgeHours(site.columns, need, room);
    const value = (i: number) => room.weakest[i]!;
    const inAll = (i: number) => sumOfFactors(site.columns, need, i);
    const better = (one: number, other: number) =>
      value(one) !== value(other) ? value(one) > value(other) : inAll(one) > inAll(other);
    const spans = spansOf(site, value, better);
    for (const span of spans) found.windows.push(windowOf(span, wanted, site));
    if (spans.length === 0) found.misses.push(missOf(site, wanted, value, better));
  }
  found.windows.sort((one, other) => (one.from < other.from ? -1 : one.from > other.from ? 1 : 0));
  return found;
}

function isFree(timeMs: number, free: readonly FreeSpan[]): boolean {
  return free.some(({ fromMs, toMs }) => timeMs + hourMs > fromMs && timeMs < toMs);
}

type Better = (one: number, other: number) => boolean;

/** Runs of suitable hours without a gap; past the third day parts of days whose middling hour suits. */
function spansOf(site: Site, value: (i: number) => number, better: Better): Span[] {
  const { hours, free } = site;
  const spans: Span[] = [];
  const suits = (i: number) => value(i) >= SUITABLE && (free === null || free[i]!);
  let open: { first: number; last: number; best: number } | null = null;
  const close = () => {
    if (open !== null) spans.push({ ...open, part: null });
    open = null;
  };
  for (let i = 0; i < hours.length; i++) {
    const gap: boolean = open !== null && hours[i]!.timeMs - hours[open.last]!.timeMs > hourMs;
    if (gap || isFar(hours[i]!) || !suits(i)) close();
    if (isFar(hours[i]!) || !suits(i)) continue;
    if (open === null) open = { first: i, last: i, best: i };
    else open = { first: open.first, last: i, best: better(i, open.best) ? i : open.best };
  }
  close();
  for (const part of site.parts) {
    const own = Array.from({ length: part.last - part.first + 1 }, (_, k) => part.first + k).filter(
      (i) => free === null || free[i]!,
    );
    if (own.length === 0) continue;
    const middling = own.sort((one, other) => value(one) - value(other))[Math.floor(own.length / 2)]!;
    if (value(middling) >= SUITABLE) spans.push({ first: part.first, last: part.last, best: middling, part });
  }
  return spans;
}

function windowOf(span: Span, wanted: WantedHours, site: Site): FoundWindow {
  const best = site.hours[span.best]!;
  const factors = factorsOf(wanted, best);
  const deciding = weakest(factors);
  const { fromMs, toMs } = boundsOf(span, site);
  const wind = best.wind.atPlantMs;
  return {
    wanted: wanted.id,
    site: site.siteId,
    from: formatInstant(fromMs),
    to: formatInstant(toMs),
    best: best.time,
    suitability: deciding.value,
    factors,
    weakest: deciding.name,
    lull: wind === null ? null : lullAtPlant(wind, best.wind, plantMotionBoundsMs[wanted.stillness]),
    part:
      span.part === null
        ? null
        : { date: span.part.date, part: span.part.part, word: partWord(deciding.value) },
    leadH: best.leadH,
    hints: [...hintsFor(wanted, best), ...onTheWay(site.hours, span.first, span.last)],
  };
}

/** Where a window begins and ends, cut to free time: to the stretch that its best hour lies in. */
function boundsOf(span: Span, { hours, freeSpans }: Site): FreeSpan {
  const fromMs = span.part?.fromMs ?? hours[span.first]!.timeMs;
  const toMs = span.part?.toMs ?? hours[span.last]!.timeMs + hourMs;
  if (freeSpans === null) return { fromMs, toMs };
  const bestMs = hours[span.best]!.timeMs;
  const free = freeSpans.filter((one) => one.toMs > fromMs && one.fromMs < toMs);
  const first = free.find((one) => bestMs + hourMs > one.fromMs && bestMs < one.toMs) ?? free[0];
  if (first === undefined) return { fromMs, toMs };
  return { fromMs: Math.max(fromMs, first.fromMs), toMs: Math.min(toMs, first.toMs) };
}

function missOf(site: Site, wanted: WantedHours, value: (i: number) => number, better: Better): FoundMiss {
  const { hours, free, siteId } = site;
  const all = Array.from(hours, (_, i) => i);
  const bestOf = (places: readonly number[]) =>
    places.reduce((best, i) => (better(i, best) ? i : best), places[0]!);
  const open = free === null ? all : all.filter((i) => free[i]!);
  const overall = bestOf(all);
  const common = { wanted: wanted.id, site: siteId };
  if (open.length === 0 || (value(overall) >= SUITABLE && !open.includes(overall))) {
    const best = hours[overall]!;
    const why =
      value(overall) >= SUITABLE
        ? 'This hour suits, but it lies outside your free hours.'
        : 'None of the hours lies in your free hours.';
    return { ...common, best: best.time, failing: 'free hours', why, value: 0, hints: [] };
  }
  const best = hours[bestOf(open)]!;
  const deciding = weakest(factorsOf(wanted, best));
  return {
    ...common,
    best: best.time,
    failing: deciding.name,
    why: deciding.why,
    value: deciding.value,
    hints: hintsFor(wanted, best),
  };
}
