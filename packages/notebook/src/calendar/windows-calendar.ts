/** Windows for wanted pictures as a calendar file that tells nobody where. */
import {
  parseInstantMs,
  releasedText,
  writeCalendar,
  type CalendarAlarm,
  type ReleasedText,
  type WhenWindow,
} from '@tepal/formats';
import { DomainError } from '@tepal/science';
import { find } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import { privateWords } from '../place/private-words.ts';

export interface WindowsCalendar {
  /** The file, text/calendar. */
  readonly text: string;
  /** What was left out of it, in sentences. */
  readonly withheld: readonly string[];
}

export interface WindowsCalendarOptions {
  /** When it is made, Unix time [ms]. */
  readonly madeAtMs: number;
  /** IANA name of the zone; null for UTC. */
  readonly zone: string | null;
  /** Language of the subject's name, where it has one in it: "en". */
  readonly language: string;
  /** For every event; none: 90 minutes before. */
  readonly alarms?: readonly CalendarAlarm[];
}

const USUAL_ALARMS: readonly CalendarAlarm[] = [{ beforeMs: 90 * 60_000 }];
const PLAIN_TITLE = plainText('A wanted picture');

/**
 * One event a window, named by the subject alone; the title that the photographer gave the picture may say where, so
 * it is not in it. Each reason stands in the note unless it holds a private word. A subject of extreme sensitivity is
 * not named.
 *
 * The same window gives the same event each time: wanted picture, site, day, and which of that day's windows it is.
 *
 * @param windows of one or several `when` documents
 * @throws DomainError where a window has no time, or the zone is not known
 */
export function calendarOfWindows(
  notebook: Notebook,
  windows: readonly WhenWindow[],
  options: WindowsCalendarOptions,
): WindowsCalendar {
  const secrets = privateWords(notebook);
  const withheld = new Set<string>();
  const pass = (text: string, what: string): ReleasedText | null => {
    const passed = releasedText(text, secrets);
    if (passed.ok) return passed.value;
    withheld.add(`${what} was left out: it holds words that tell where the place is.`);
    return null;
  };
  const seen = new Map<string, number>();
  const events = windows.map((window) => {
    const fromMs = timeOf(window.from, 'from');
    const day = `${window.wanted} ${window.site} ${window.from.slice(0, 10)}`;
    const nth = (seen.get(day) ?? 0) + 1;
    seen.set(day, nth);
    const name = nameOf(notebook, window.wanted, options.language);
    const title = name === null ? null : pass(name, 'The name of the subject');
    const reasons = window.factors.flatMap(({ why }) => pass(why, 'A reason') ?? []).join('\n');
    return {
      key: `${day} ${nth}`,
      title: title ?? PLAIN_TITLE,
      note: reasons === '' ? null : pass(reasons, 'The note'),
      ...{ fromMs, toMs: timeOf(window.to, 'to'), alarms: options.alarms ?? USUAL_ALARMS },
    };
  });
  const { madeAtMs, zone } = options;
  return { text: writeCalendar(events, { madeAtMs, zone }), withheld: [...withheld] };
}

/** A text of ours, in which there is nothing to look for. */
function plainText(text: string): ReleasedText {
  const passed = releasedText(text, []);
  if (passed.ok) return passed.value;
  throw new DomainError('notOneOf', 'a text without secrets', 'text', text);
}

function nameOf(notebook: Notebook, wantedId: string, language: string): string | null {
  const wanted = find(notebook, 'wantedPicture', wantedId);
  const subject = wanted === null ? null : find(notebook, 'subject', wanted.subjectId);
  if (subject === null || subject.sensitivity === 'extreme') return null;
  return subject.commonNames[language] ?? Object.values(subject.commonNames)[0] ?? subject.scientificName;
}

function timeOf(text: string, name: string): number {
  const timeMs = parseInstantMs(text);
  if (timeMs !== null) return timeMs;
  throw new DomainError('notOneOf', 'a time in ISO 8601 with an offset', `window.${name}`, text);
}
