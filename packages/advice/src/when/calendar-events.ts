/** Windows as entries for a calendar, with titles that give no place away. */
import { parseInstantMs, releasedText, type CalendarEvent, type ReleasedText } from '@tepal/formats';
import type { Sensitivity } from '@tepal/notebook';
import { partInWords } from './window/parts-of-days.ts';
import type { FoundWindow } from './window/windows.ts';

/** What a wanted picture is called, and how much harm its place would do if it were known. */
export interface CalledPicture {
  readonly id: string;
  readonly title: string;
  /** Null where nobody was asked yet, which counts as sensitive. */
  readonly sensitivity: Sensitivity | null;
  readonly light: 'soft' | 'any' | 'sun';
  readonly drops: 'wanted' | 'none' | 'any';
}

/** Before the start of a window [ms]: time to get up and go. Ours. */
const usualAlarmMs = 90 * 60_000;

/**
 * Entries for a calendar, one a window.
 *
 * The title is the picture's own where its subject is not sensitive and no secret stands in it; else it says only
 * what light it is about. The note says what decides and how sure it is; a reason that holds a secret is left out.
 * There is no place in an entry.
 *
 * @param windows of any sites
 * @param pictures what they are called
 * @param secrets the notebook's `privateWords`: names of sites, notes on access, coordinates
 */
export function calendarEvents(
  windows: readonly FoundWindow[],
  pictures: readonly CalledPicture[],
  secrets: readonly string[],
): CalendarEvent[] {
  const counted = new Map<string, number>();
  return windows.flatMap((window): CalendarEvent[] => {
    const fromMs = parseInstantMs(window.from);
    const toMs = parseInstantMs(window.to);
    const picture = pictures.find(({ id }) => id === window.wanted);
    const title = titleOf(picture, secrets);
    if (fromMs === null || toMs === null || title === null) return [];
    const day = `${window.wanted} ${window.site} ${window.from.slice(0, 10)}`;
    const before = counted.get(day) ?? 0;
    counted.set(day, before + 1);
    return [
      {
        key: `${day} ${before}`,
        title,
        note: told(noteOf(window), secrets),
        fromMs,
        toMs,
        alarms: [{ beforeMs: usualAlarmMs }],
      },
    ];
  });
}

function told(text: string, secrets: readonly string[]): ReleasedText | null {
  const read = releasedText(text, secrets);
  return read.ok ? read.value : null;
}

/** Null only where even the plain words hold a secret: then there is no entry. */
function titleOf(picture: CalledPicture | undefined, secrets: readonly string[]): ReleasedText | null {
  if (picture?.sensitivity === 'none') {
    const own = told(picture.title, secrets);
    if (own !== null) return own;
  }
  const light =
    picture?.light === 'soft' ? 'in soft light' : picture?.light === 'sun' ? 'in sun' : 'outdoors';
  const drops = picture?.drops === 'wanted' ? ', with drops' : '';
  return told(`Photographs ${light}${drops}`, secrets) ?? told('Photographs', secrets);
}

function noteOf({ factors, weakest, part, lull, hints }: FoundWindow): string {
  const deciding = factors.find(({ name }) => name === weakest);
  const wait = lull?.expectedWaitS ?? null;
  return [
    ...(part === null
      ? []
      : [`More than three days ahead, no more is known than this: ${part.word} ${partInWords(part)}.`]),
    ...(deciding === undefined ? [] : [`What decides: ${deciding.name}. ${deciding.why}`]),
    ...(part === null && wait !== null && wait >= 5 ? [`Wait for a lull: about ${Math.round(wait)} s.`] : []),
    ...hints,
  ].join('\n');
}
