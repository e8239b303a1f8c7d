/** Spans of hours that suit wanted pictures, and what is missing where none does. */
import { formatInstant, type WhenMiss, type WhenWindow } from '@tepal/formats';
import { requireFinite } from '@tepal/science';
import type { HourAtPlant } from '../hour/hours.ts';
import { factorsOf, weakest, type JudgedFactor, type WantedHours } from './factors.ts';

/** An hour suits when its weakest factor is at least this [0..1]. Ours. */
export const SUITABLE = 0.5;
/** Widest gap between two instants that one window spans [ms]; an instant stands for at most an hour after it. */
const hourMs = 3_600_000;

export interface FoundWindows {
  readonly windows: (WhenWindow & { readonly best: string })[];
  readonly misses: WhenMiss[];
}

interface Judged {
  readonly hour: HourAtPlant;
  readonly factors: JudgedFactor[];
  readonly deciding: JudgedFactor;
}

/**
 * The windows for each wanted picture at a site, in order of time, and a miss for each that has none.
 *
 * Hours before `nowMs` are left out, unless the whole forecast lies in the past. A window's suitability and factors
 * are those of its best hour, named in `best`; a miss names the best hour of all and the factor that fails there.
 *
 * @param request.siteId the site that the hours are for; wanted pictures of other sites are left out
 * @param request.nowMs Unix time [ms]
 * @throws DomainError if `nowMs` is not finite
 */
export function findWindows(request: {
  readonly siteId: string;
  readonly hours: readonly HourAtPlant[];
  readonly wanted: readonly WantedHours[];
  readonly nowMs: number;
}): FoundWindows {
  const nowMs = requireFinite('nowMs', request.nowMs, 'ms');
  const ahead = request.hours.filter((hour) => hour.timeMs + hourMs > nowMs);
  const hours = ahead.length > 0 ? ahead : request.hours;
  const found: FoundWindows = { windows: [], misses: [] };
  for (const wanted of request.wanted) {
    if (hours.length === 0 || (wanted.siteId !== null && wanted.siteId !== request.siteId)) continue;
    const judged = hours.map((hour): Judged => {
      const factors = factorsOf(wanted, hour);
      return { hour, factors, deciding: weakest(factors) };
    });
    const spans = spansOf(judged);
    for (const span of spans) found.windows.push(windowOf(span, wanted.id, request.siteId));
    if (spans.length === 0) found.misses.push(missOf(bestOf(judged), wanted.id, request.siteId));
  }
  found.windows.sort((one, other) => (one.from < other.from ? -1 : one.from > other.from ? 1 : 0));
  return found;
}

/** Runs of suitable hours without a gap. */
function spansOf(judged: readonly Judged[]): Judged[][] {
  const spans: Judged[][] = [];
  let last: Judged[] | null = null;
  for (const one of judged) {
    if (one.deciding.value < SUITABLE) {
      last = null;
      continue;
    }
    const before = last?.at(-1);
    if (last !== null && before !== undefined && one.hour.timeMs - before.hour.timeMs <= hourMs)
      last.push(one);
    else spans.push((last = [one]));
  }
  return spans;
}

/** The hour with the best weakest factor; among equals the one whose factors are best in all; then the earliest. */
function bestOf(judged: readonly Judged[]): Judged {
  const inAll = ({ factors }: Judged) => factors.reduce((sum, { value }) => sum + value, 0);
  return judged.reduce((best, one) => {
    if (one.deciding.value !== best.deciding.value)
      return one.deciding.value > best.deciding.value ? one : best;
    return inAll(one) > inAll(best) ? one : best;
  });
}

function windowOf(span: readonly Judged[], wanted: string, site: string): FoundWindows['windows'][number] {
  const best = bestOf(span);
  return {
    wanted,
    site,
    from: span[0]!.hour.time,
    to: formatInstant(span.at(-1)!.hour.timeMs + hourMs),
    best: best.hour.time,
    suitability: best.deciding.value,
    factors: best.factors,
  };
}

function missOf(best: Judged, wanted: string, site: string): WhenMiss {
  return { wanted, site, best: best.hour.time, failing: best.deciding.name, why: best.deciding.why };
}
