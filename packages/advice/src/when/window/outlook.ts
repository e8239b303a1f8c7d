/** Past the third day: parts of days in one word each, for every wanted picture and for any close-up. */
import type { HourAtPlant } from '../hour/hours.ts';
import { factorsOf, weakest } from './factors.ts';
import { hourColumns, judgeHours, needColumns, roomForJudging } from './judging.ts';
import { ANY_CLOSE_UP, type WantedHours } from './needs.ts';
import { partBounds, partsOfDays, partWord, type PartOfDay, type PartWord } from './parts-of-days.ts';

/** A part of a day past the third, for one picture. */
export interface OutlookPart {
  /** By the sun at the site, "2026-06-14". */
  readonly date: string;
  readonly part: PartOfDay;
  readonly from: string;
  readonly to: string;
  /** The wanted picture; null for any close-up. */
  readonly wanted: string | null;
  readonly word: PartWord;
  /** The factor that decides in the part's middling hour, and why. */
  readonly weakest: string;
  readonly why: string;
}

/**
 * The parts of days past the forecast's third, in order of time, for each wanted picture of the site, or for any
 * close-up where there is none.
 *
 * @param site.longitudeDeg [°], for the dates
 */
export function outlookOf(
  site: { readonly siteId: string; readonly longitudeDeg: number },
  hours: readonly HourAtPlant[],
  wanted: readonly WantedHours[],
): OutlookPart[] {
  const parts = partsOfDays(hours, site.longitudeDeg);
  if (parts.length === 0) return [];
  const here = wanted.filter(({ siteId }) => siteId === null || siteId === site.siteId);
  const asked = here.length === 0 ? [ANY_CLOSE_UP] : here;
  const columns = hourColumns(hours);
  const room = roomForJudging(hours.length);
  const told = asked.flatMap((want) => {
    judgeHours(columns, needColumns(want), room);
    return parts.map((part): OutlookPart => {
      const own = Array.from({ length: part.last - part.first + 1 }, (_, k) => part.first + k);
      own.sort((one, other) => room.weakest[one]! - room.weakest[other]!);
      const middling = own[Math.floor(own.length / 2)]!;
      const deciding = weakest(factorsOf(want, hours[middling]!));
      return {
        date: part.date,
        part: part.part,
        ...partBounds(part),
        wanted: want === ANY_CLOSE_UP ? null : want.id,
        word: partWord(deciding.value),
        weakest: deciding.name,
        why: deciding.why,
      };
    });
  });
  return told.sort((one, other) => (one.from < other.from ? -1 : one.from > other.from ? 1 : 0));
}
