/** Kept and imported records as days on which a subject was seen in the state that is wanted. */
import { parseWrittenTime } from '@tepal/formats';
import type { KeptRecord, Site, Subject } from '@tepal/notebook';
import { dayOfYear, yearOf } from './calendar-days.ts';

/** One sighting, as the season reads it. */
export interface SeenOn {
  readonly year: number;
  /** 1 to 366. */
  readonly dayOfYear: number;
  /** [°]; null where no place was noted. */
  readonly latitudeDeg: number | null;
  /** [m]; null where not noted. */
  readonly altitudeM: number | null;
}

/** Widest interval of an event date that still tells a day [days]. */
const widestIntervalDays = 7;
const dayMs = 86_400_000;

/** States that are not the one to photograph: these records say nothing of the flowering time. */
const notOut = /vegetativ|fruit|seed|bud|leaf|rosette|dormant|dead|pupa|larva|egg/i;

/**
 * The sightings of a subject among records: by its identifier, or by its scientific name where a record was not
 * matched to a subject. Absences, records in another state than out, and dates that tell no day are left out.
 */
export function seenOf(
  subject: Pick<Subject, 'id' | 'scientificName'>,
  records: readonly KeptRecord[],
  sites: readonly Pick<Site, 'id' | 'position'>[],
): SeenOn[] {
  const name = plainName(subject.scientificName);
  return records.flatMap((record) => {
    const same =
      record.subjectId === subject.id ||
      (record.subjectId === null && record.verbatimName !== null && plainName(record.verbatimName) === name);
    if (!same || record.individualCount === 0 || !isOut(record)) return [];
    const timeMs = dayOfEvent(record.eventDate);
    if (timeMs === null) return [];
    const place = record.position ?? sites.find(({ id }) => id === record.siteId)?.position ?? null;
    return [
      {
        year: yearOf(timeMs),
        dayOfYear: dayOfYear(timeMs),
        latitudeDeg: place?.latitudeDeg ?? null,
        altitudeM: place?.altitudeM ?? elevationOf(record),
      },
    ];
  });
}

/** Genus and species alone, in small letters: authors and ranks below differ between sources. */
function plainName(name: string): string {
  return name.trim().toLowerCase().split(/\s+/).slice(0, 2).join(' ');
}

function isOut({ lifeStage, extraTerms }: KeptRecord): boolean {
  const said = `${lifeStage ?? ''} ${extraTerms['reproductiveCondition'] ?? ''}`;
  return /flower|bloom|adult|imago/i.test(said) || !notOut.test(said);
}

function elevationOf({ extraTerms }: KeptRecord): number | null {
  const texts = [extraTerms['minimumElevationInMeters'], extraTerms['maximumElevationInMeters']];
  const known = texts
    .filter((text) => text !== undefined && text.trim() !== '')
    .map(Number)
    .filter((metres) => metres >= -500 && metres <= 9000);
  return known.length === 0 ? null : known.reduce((sum, metres) => sum + metres, 0) / known.length;
}

/** The day of an event date, Unix time [ms]; the middle of a short interval; null where it tells no day. */
export function dayOfEvent(eventDate: string): number | null {
  const [from, to] = eventDate.split('/');
  const first = dayMsOf(from ?? '');
  if (first === null || to === undefined) return first;
  // The end of an interval may leave out what is the same as in its start: 2026-06-14/16.
  const whole = to.length < 10 && !to.includes('T') ? `${(from ?? '').slice(0, 10 - to.length)}${to}` : to;
  const last = dayMsOf(whole);
  if (last === null || last < first || last - first > widestIntervalDays * dayMs) return null;
  return first + Math.floor((last - first) / dayMs / 2) * dayMs;
}

function dayMsOf(text: string): number | null {
  return parseWrittenTime(`${text.slice(0, 10)}T00:00:00`)?.localMs ?? null;
}
