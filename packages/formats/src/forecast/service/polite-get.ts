/**
 * Asking a free public service politely: never before its answer has run out, with a condition, one request at a time,
 * and not at all while it asks to be left alone. What is kept stands in whenever the service cannot.
 *
 * @source MET Norway, terms of service; US National Weather Service, API documentation; RFC 9110, RFC 9111
 */
import type { FormatFault } from '../../result.ts';
import { freshUntilMs, retryAfterMs } from './http-date.ts';
import type { ForecastCache, KeptAnswer } from './kept-answers.ts';

/** What is needed of the platform's fetch. It rejects when the network fails or takes too long. */
export type ForecastFetch = (
  url: string,
  init: { readonly headers: Record<string, string> },
) => Promise<{
  readonly status: number;
  readonly headers: { get(name: string): string | null };
  arrayBuffer(): Promise<ArrayBuffer>;
}>;

export interface PoliteParts {
  readonly fetch: ForecastFetch;
  readonly cache: ForecastCache;
  /** Unix time [ms]. */
  readonly now: () => number;
  /**
   * The User-Agent. null on a page, where the browser names itself and sends conditions of its own: headers of ours
   * would only make it ask for leave first.
   */
  readonly userAgent: string | null;
}

export interface PoliteRequest {
  readonly url: string;
  readonly accept: string;
  /** How long an answer holds whose service does not say [ms]. */
  readonly holdsMs: number;
  /** What is wrong with a body, or null: one that is cut or not understood never replaces one that was. */
  readonly check: (bytes: Uint8Array) => FormatFault | null;
}

/** How an answer came: asked for anew, confirmed, not yet run out, or kept because the service could not be had. */
export type HowItCame = 'fetched' | 'unchanged' | 'fresh' | 'kept';

export interface PoliteAnswer extends KeptAnswer {
  readonly how: HowItCame;
  /** For `kept`: why there is nothing newer, as a sentence. */
  readonly why: string | null;
}

/** A service that gave nothing, and nothing was kept. */
export interface ServiceFault {
  /** The HTTP status; null where no answer came. */
  readonly status: number | null;
  readonly message: string;
  /** When it may be asked again, Unix time [ms]; null: at once. */
  readonly retryAtMs: number | null;
}

export type Got =
  { readonly ok: true; readonly answer: PoliteAnswer } | { readonly ok: false; readonly fault: ServiceFault };

const MINUTE_MS = 60_000;
const FIRST_PAUSE_MS = MINUTE_MS;
const LONGEST_PAUSE_MS = 6 * 60 * MINUTE_MS;
/** A pause or an answer farther ahead than this was written by a clock that was wrong. */
const CLOCK_SLACK_MS = MINUTE_MS;
const LONGEST_ASKED_PAUSE_MS = 24 * 60 * MINUTE_MS;
const LONGEST_HOLD_MS = 24 * 60 * MINUTE_MS;
const REFUSED_PAUSE_MS = 60 * MINUTE_MS;

export type PoliteGet = (request: PoliteRequest) => Promise<Got>;

/** A client over a platform's fetch; one request at a time to each service. */
export function politeClient(parts: PoliteParts): PoliteGet {
  const turns = new Map<string, Promise<unknown>>();
  return (request) => {
    const origin = new URL(request.url).origin;
    const before = turns.get(origin) ?? Promise.resolve();
    const mine = before.then(() => ask(parts, origin, request));
    turns.set(
      origin,
      mine.catch(() => undefined),
    );
    return mine;
  };
}

async function ask(parts: PoliteParts, origin: string, request: PoliteRequest): Promise<Got> {
  const { cache } = parts;
  const nowMs = parts.now();
  const kept = await cache.answer(request.url);
  if (kept !== null && stillFresh(kept, nowMs)) return came({ ...kept, how: 'fresh', why: null });
  const pause = await cache.pause(origin);
  if (pause !== null && pause.untilMs > nowMs && pause.untilMs <= nowMs + LONGEST_ASKED_PAUSE_MS) {
    const why = `The service ${pause.why}; it is asked again ${inWords(pause.untilMs - nowMs)}.`;
    return standIn(kept, { status: null, message: why, retryAtMs: pause.untilMs });
  }
  const refusals = pause?.refusals ?? 0;
  const reply = await send(parts, request, kept);
  if (!reply.ok) return standIn(kept, reply.fault);
  const { status, header, bytes } = reply;
  if (status === 304 && kept !== null) {
    await rest(parts, origin, null);
    const renewed = { ...kept, checkedAtMs: nowMs, freshUntilMs: holds(request, header, nowMs) };
    await cache.keepAnswer(request.url, renewed);
    return came({ ...renewed, how: 'unchanged', why: null });
  }
  if (status === 200 || status === 203) {
    const fault = request.check(bytes);
    if (fault !== null) {
      const message = `The service's answer is cut off or damaged. ${fault.message}`;
      return standIn(kept, { status, message, retryAtMs: null });
    }
    await rest(parts, origin, null);
    const answer: KeptAnswer = {
      bytes,
      fetchedAtMs: nowMs,
      checkedAtMs: nowMs,
      freshUntilMs: holds(request, header, nowMs),
      lastModified: header('last-modified'),
      entityTag: header('etag'),
    };
    await cache.keepAnswer(request.url, answer);
    return came({ ...answer, how: 'fetched', why: null });
  }
  const asked = retryAfterMs(header('retry-after'), nowMs);
  const { why, waitMs } = refusalOf(status, asked, refusals);
  const retryAtMs = waitMs === null ? null : nowMs + waitMs;
  if (retryAtMs !== null) {
    await rest(parts, origin, { untilMs: retryAtMs, refusals: refusals + 1, why });
  }
  return standIn(kept, { status, message: `The service ${why}.`, retryAtMs });
}

/** Whether it has not run out; an answer from the future was kept by a clock that was wrong. */
function stillFresh(kept: KeptAnswer, nowMs: number): boolean {
  return kept.freshUntilMs > nowMs && kept.checkedAtMs <= nowMs + CLOCK_SLACK_MS;
}

/** As long as the service says, but never so long that a slip of its headers leaves a forecast for good. */
const holds = (request: PoliteRequest, header: (name: string) => string | null, nowMs: number) =>
  Math.min(
    freshUntilMs(header, nowMs) ?? nowMs + request.holdsMs,
    nowMs + Math.max(LONGEST_HOLD_MS, request.holdsMs),
  );

type Reply =
  | {
      readonly ok: true;
      readonly status: number;
      readonly header: (name: string) => string | null;
      readonly bytes: Uint8Array;
    }
  | { readonly ok: false; readonly fault: ServiceFault };

async function send(parts: PoliteParts, request: PoliteRequest, kept: KeptAnswer | null): Promise<Reply> {
  const { userAgent } = parts;
  const headers: Record<string, string> = { Accept: request.accept };
  if (userAgent !== null) {
    headers['User-Agent'] = userAgent;
    const { lastModified = null, entityTag = null } = kept ?? {};
    if (lastModified !== null) headers['If-Modified-Since'] = lastModified;
    if (entityTag !== null) headers['If-None-Match'] = entityTag;
  }
  try {
    const response = await parts.fetch(request.url, { headers });
    const bytes = new Uint8Array(await response.arrayBuffer());
    const header = (name: string) => response.headers.get(name);
    return { ok: true, status: response.status, header, bytes };
  } catch {
    const message = 'The service does not answer; there may be no network.';
    return { ok: false, fault: { status: null, message, retryAtMs: null } };
  }
}

/** What a status means, and how long to leave the service alone [ms]; null where it need not be. */
function refusalOf(
  status: number,
  askedMs: number | null,
  refusals: number,
): { readonly why: string; readonly waitMs: number | null } {
  const grown = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(20, refusals));
  const wait = Math.min(LONGEST_ASKED_PAUSE_MS, Math.max(askedMs ?? grown, FIRST_PAUSE_MS));
  if (status === 429) return { why: 'asked to be left alone for a while (429)', waitMs: wait };
  if (status >= 500) return { why: `cannot answer at the moment (${status})`, waitMs: wait };
  if (status === 401 || status === 403) {
    const why = `refused (${status}): its terms ask for a way to reach you; check the contact that you gave`;
    return { why, waitMs: Math.max(wait, REFUSED_PAUSE_MS) };
  }
  if (status === 400 || status === 404 || status === 422) {
    return { why: `has nothing for this place (${status})`, waitMs: null };
  }
  return { why: `answered with status ${status}, which was not expected`, waitMs: wait };
}

function rest(parts: PoliteParts, origin: string, pause: Parameters<ForecastCache['keepPause']>[1]) {
  return parts.cache.keepPause(origin, pause);
}

const came = (answer: PoliteAnswer): Got => ({ ok: true, answer });

function standIn(kept: KeptAnswer | null, fault: ServiceFault): Got {
  return kept === null ? { ok: false, fault } : came({ ...kept, how: 'kept', why: fault.message });
}

function inWords(ms: number): string {
  const minutes = Math.ceil(ms / MINUTE_MS);
  return minutes < 90 ? `in ${minutes} min` : `in ${Math.round(minutes / 60)} h`;
}
