/** Times and waits as HTTP headers write them. */
import { daysFromCivil, daysInMonth, utcParts } from '../../time.ts';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const IMF = /^[A-Z][a-z]{2}, (\d{2}) ([A-Z][a-z]{2}) (\d{4}) (\d{2}):(\d{2}):(\d{2}) GMT$/;

/**
 * "Sun, 06 Nov 1994 08:49:37 GMT" as Unix time [ms]; null where the text is none.
 *
 * @source RFC 9110, 5.6.7 (the two obsolete forms are not read: no service here writes them)
 */
export function parseHttpDate(text: string | null): number | null {
  const m = IMF.exec(text?.trim() ?? '');
  if (m === null) return null;
  const month = MONTHS.indexOf(m[2] ?? '') + 1;
  const [day = 0, year = 0, hour = 0, minute = 0, second = 0] = [1, 3, 4, 5, 6].map((i) => Number(m[i]));
  if (month < 1 || day < 1 || day > daysInMonth(year, month)) return null;
  if (hour > 23 || minute > 59 || second > 60) return null;
  return daysFromCivil(year, month, day) * 86_400_000 + ((hour * 60 + minute) * 60 + second) * 1000;
}

/** Unix time [ms] as an HTTP date, to the second. */
export function formatHttpDate(timeMs: number): string {
  const p = utcParts(timeMs);
  const two = (n: number) => String(n).padStart(2, '0');
  const weekday = DAYS[(((Math.floor(timeMs / 86_400_000) + 4) % 7) + 7) % 7] ?? '';
  const date = `${two(p.day)} ${MONTHS[p.month - 1] ?? ''} ${String(p.year).padStart(4, '0')}`;
  return `${weekday}, ${date} ${two(p.hour)}:${two(p.minute)}:${two(p.second)} GMT`;
}

/**
 * When an answer that was asked for at `nowMs` has to be asked for again [Unix ms]: by `Cache-Control: max-age`, else
 * by `Expires`; null where neither says.
 *
 * @source RFC 9111, 4.2.1
 */
export function freshUntilMs(header: (name: string) => string | null, nowMs: number): number | null {
  const control = header('cache-control') ?? '';
  if (/\bno-(cache|store)\b/i.test(control)) return nowMs;
  const age = /\bmax-age=(\d{1,9})\b/i.exec(control)?.[1];
  if (age !== undefined) return nowMs + Number(age) * 1000;
  const expires = header('expires');
  if (expires === null) return null;
  const expiresMs = parseHttpDate(expires);
  if (expiresMs === null) return nowMs;
  // Against the service's own clock, so that a wrong clock here neither hammers nor starves.
  const serviceNowMs = parseHttpDate(header('date')) ?? nowMs;
  return nowMs + Math.max(0, expiresMs - serviceNowMs);
}

/** How long `Retry-After` asks to wait [ms]; null where it does not say. @source RFC 9110, 10.2.3 */
export function retryAfterMs(text: string | null, nowMs: number): number | null {
  if (text === null) return null;
  if (/^\d{1,7}$/.test(text.trim())) return Number(text) * 1000;
  const atMs = parseHttpDate(text);
  return atMs === null ? null : Math.max(0, atMs - nowMs);
}
