/** When a subject is out at a place: from records, from the months that were typed, moved to the place and the year. */
import {
  circularDays,
  daysAfter,
  kappaOfSpread,
  placeShiftDays,
  seasonDensity,
  seasonEnd,
  vitasseDaysPerMetre,
  type SeasonEnd,
} from '@tepal/science';
import type { SeenOn } from './season-records.ts';
import type { SeasonCurve } from './window/needs.ts';

/** How much a season is late (positive) or early this year, and from what. */
export interface YearShift {
  readonly daysLater: number;
  /** Half the width of the band that holds about two in three [days]. */
  readonly spreadDays: number;
  readonly why: string;
}

/** What the season is told for. */
export interface SeasonPlace {
  readonly latitudeDeg: number;
  /** [m]; null where not known: then altitude moves nothing. */
  readonly altitudeM: number | null;
}

export type Season =
  | {
      readonly kind: 'records';
      readonly curve: SeasonCurve;
      /** The likeliest day [1 to 365], and the band that holds it in about 19 of 20 cases. */
      readonly peakDay: number;
      readonly peakBandDays: number;
      /** First and last day, told beyond what was seen. */
      readonly onset: SeasonEnd;
      readonly end: SeasonEnd;
      readonly count: number;
      readonly sentences: readonly string[];
    }
  | { readonly kind: 'months'; readonly curve: SeasonCurve; readonly sentences: readonly string[] }
  | { readonly kind: 'unknown'; readonly curve: null; readonly sentences: readonly string[] };

/** Records with which the months that were typed weigh as much as the records. Ours. */
const recordsWorthMonths = 5;
/** Spread of a flowering time when only one or two records say anything [days]. Ours. */
const spreadOfFewDays = 14;
/** Bounds of the kernel's spread [days]. Ours. */
const narrowestDays = 5;
const widestDays = 30;
/** What of a shift by altitude and latitude is not known: three tenths. Ours: rates differ by that much (FS 7). */
const shiftDoubt = 0.3;
/** Days over which a month's edge falls off. Ours. */
const monthEdgeDays = 15;
/** A shift of the year beyond this is not believed [days]. Ours. */
const largestYearShiftDays = 30;

/**
 * The season of a subject at a place in this year.
 *
 * Records are moved by altitude (22 days a km, Vitasse et al. 2018) and latitude (4 days a degree, Hopkins), then by
 * the year's shift; a von Mises kernel makes a density of them, whose half height counts as in season. With few
 * records the months weigh in, and the band says how wide the doubt is. Records of the other hemisphere are left out.
 *
 * @param request.seen when and where it was seen, own and imported
 * @param request.months as typed, 1 to 12; empty where not known
 * @param request.year this year's shift; null where not known
 * @source Silverman 1986, eq. 3.28, for the kernel's spread; see `seasonDensity` and `seasonEnd`
 */
export function seasonAt(request: {
  readonly seen: readonly SeenOn[];
  readonly months: readonly number[];
  readonly place: SeasonPlace;
  readonly year: YearShift | null;
}): Season {
  const { months, place, year } = request;
  const later = Math.max(
    -largestYearShiftDays,
    Math.min(largestYearShiftDays, year === null ? 0 : year.daysLater),
  );
  const moved = request.seen
    .filter(({ latitudeDeg }) => latitudeDeg === null || latitudeDeg * place.latitudeDeg >= 0)
    .map((seen) => ({ day: seen.dayOfYear, by: shiftTo(seen, place) }));
  const yearSays = year === null ? [] : [year.why];
  if (moved.length === 0) return fromMonths(months, later, yearSays);

  const days = moved.map(({ day, by }) => wrapped(day + by + later));
  const n = days.length;
  const { meanDay, spreadDays } = circularDays(days);
  const spread = n < 3 ? spreadOfFewDays : Math.max(narrowestDays, spreadDays ?? 180);
  const doubt = Math.hypot(
    (shiftDoubt * moved.reduce((sum, { by }) => sum + Math.abs(by), 0)) / n,
    year === null ? 0 : year.spreadDays,
  );
  const kernel = Math.min(widestDays, Math.max(narrowestDays, 1.06 * spread * n ** -0.2));
  const kappa = kappaOfSpread(Math.hypot(kernel, doubt));
  const density = Array.from({ length: 366 }, (_, i) => seasonDensity(days, kappa, dayAt(i)));
  const most = Math.max(...density);
  const typed = months.length === 0 ? null : monthsCurve(months, later);
  const weight = n / (n + recordsWorthMonths);
  const value = density.map((one, i) => {
    const byRecords = Math.min(1, (2 * one) / most);
    return weight * byRecords + (1 - weight) * (typed?.[i] ?? 0.5);
  });
  const peakBandDays = Math.round(1.96 * Math.hypot(spread / Math.sqrt(n), doubt));
  const unwrapped = days.map((day) => meanDay + daysAfter(day, meanDay));
  const meanBy = moved.reduce((sum, { by }) => sum + by, 0) / n;
  const sentences = [
    `From ${n === 1 ? '1 record' : `${n} records`}${n < recordsWorthMonths ? ', few' : ''}: the peak may lie ${peakBandDays} days either way.`,
    ...(Math.abs(meanBy) < 1
      ? []
      : [
          `Moved ${Math.abs(Math.round(meanBy))} days ${meanBy > 0 ? 'later' : 'earlier'} for altitude and latitude.`,
        ]),
    ...yearSays,
  ];
  return {
    kind: 'records',
    curve: { value, basis: sentences.join(' ') },
    peakDay: density.indexOf(most) + 1,
    peakBandDays,
    onset: seasonEnd(unwrapped, 'onset'),
    end: seasonEnd(unwrapped, 'end'),
    count: n,
    sentences,
  };
}

/** Days by which a season comes later at a place than where it was seen, by altitude and latitude. */
export function shiftTo(seen: SeenOn, place: SeasonPlace): number {
  const poleward = seen.latitudeDeg === null ? 0 : Math.abs(place.latitudeDeg) - Math.abs(seen.latitudeDeg);
  const higher = seen.altitudeM === null || place.altitudeM === null ? 0 : place.altitudeM - seen.altitudeM;
  return placeShiftDays({ polewardDeg: poleward, higherM: higher }, vitasseDaysPerMetre.now);
}

const wrapped = (day: number) => ((((day - 1) % 365) + 365) % 365) + 1;

/** Day of the circle at a place of a curve: a leap year's last day counts as the one before it. */
const dayAt = (place: number) => Math.min(365, place + 1);

/** First day of each month in a year of 365 days. */
const firstDays = [1, 32, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335];

/** 1 within the months, falling to 0 over a fortnight beyond them. */
function monthsCurve(months: readonly number[], later: number): number[] {
  const spans = months.map((month) => [firstDays[month - 1]!, (firstDays[month] ?? 366) - 1] as const);
  return Array.from({ length: 366 }, (_, i) => {
    const day = dayAt(i) - later;
    const away = spans.map(([first, last]) => {
      const before = daysAfter(first, day);
      const after = daysAfter(day, last);
      const inside = daysAfter(day, (first + last) / 2);
      return Math.abs(inside) <= (last - first) / 2 + 0.5
        ? 0
        : Math.max(0, Math.min(Math.abs(before), Math.abs(after)));
    });
    return Math.max(0, 1 - Math.min(...away) / monthEdgeDays);
  });
}

function fromMonths(months: readonly number[], later: number, yearSays: readonly string[]): Season {
  if (months.length === 0)
    return {
      kind: 'unknown',
      curve: null,
      sentences: ['No record and no months: when it is out is not known.'],
    };
  const sentences = ['No record yet: the months that were typed.', ...yearSays];
  return {
    kind: 'months',
    curve: { value: monthsCurve(months, later), basis: sentences.join(' ') },
    sentences,
  };
}
