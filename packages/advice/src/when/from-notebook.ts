/** What a notebook keeps, as what the hours are computed for: the one way for pages, engine and command line. */
import { horizonThroughPoints } from '@tepal/science';
import type { KeptRecord, Site, Subject, WantedPicture } from '@tepal/notebook';
import { dayOfYear, yearOf } from './calendar-days.ts';
import { USUAL_PLANT, type PlantPlace } from './place.ts';
import { seenOf } from './season-records.ts';
import { seasonDay, seenFrom, shiftByOrder, surerShift, type SubjectSeen } from './season-year.ts';
import { seasonAt, type Season, type YearShift } from './season.ts';
import type { WantedHours } from './window/needs.ts';

/** The lists of a notebook that the hours hang on. */
export interface KeptForWhen {
  readonly sites: readonly Site[];
  readonly subjects: readonly Subject[];
  readonly wantedPictures: readonly WantedPicture[];
  readonly records: readonly KeptRecord[];
}

/**
 * A site as a plant's place. Where the notebook does not say, the usual plant stands in.
 *
 * @param options.plantHeightM height of the flower [m]; null where not known
 * @param options.altitudeM stands in where the site has none [m], as the forecast's own; null for sea level
 */
export function plantPlaceOfSite(
  site: Site,
  options: { readonly plantHeightM: number | null; readonly altitudeM: number | null },
): PlantPlace {
  const { latitudeDeg, longitudeDeg, altitudeM } = site.position;
  const { barrier = null, horizon = null, landform, slopeDeg, aspectDeg } = site;
  const { plantHeightM } = options;
  return {
    ...USUAL_PLANT,
    latitudeDeg,
    longitudeDeg,
    altitudeM: altitudeM ?? options.altitudeM ?? 0,
    ...(plantHeightM === null || plantHeightM <= 0 ? {} : { plantHeightM: Math.min(10, plantHeightM) }),
    ...(site.vegetationHeightM === null ? {} : { vegetationHeightM: Math.min(40, site.vegetationHeightM) }),
    ...(landform === null ? {} : { landform }),
    ...(site.shelter === null ? {} : { shelter: site.shelter }),
    ...(barrier === null || barrier.heightM < 0.2 ? {} : { barrier }),
    slopeDeg,
    aspectDeg,
    horizon: horizon === null || horizon.length === 0 ? null : horizonThroughPoints(horizon),
  };
}

/**
 * Height of the flower at a site: of the tallest subject that is wanted there, which the wind moves most [m]; null
 * where no height is kept.
 */
export function flowerHeightAt(siteId: string, kept: KeptForWhen): number | null {
  const heights = openAt(siteId, kept)
    .map(({ subjectId }) => subjectOf(subjectId, kept)?.heightAboveGroundM ?? null)
    .filter((height) => height !== null);
  return heights.length === 0 ? null : Math.max(...heights);
}

/** When the season is told, and what is known of the year. */
export interface SeasonMoment {
  /** Unix time [ms]. */
  readonly nowMs: number;
  /** This year's shift by its warmth, where somebody knows it; null or left out where not. */
  readonly warmth?: YearShift | null;
  /** What `sightingsOf` gave, to be worked out once for many sites; worked out here where left out. */
  readonly sightings?: readonly SubjectSeen[];
}

/** Every subject's sightings among the records, own and imported. */
export function sightingsOf({ subjects, records, sites }: KeptForWhen): SubjectSeen[] {
  return subjects.map((subject) => ({
    subjectId: subject.id,
    name: subject.commonNames['en'] ?? subject.scientificName,
    seen: seenOf(subject, records, sites),
  }));
}

/** The season of a subject at a site as of an instant. */
export function seasonOfSubject(subject: Subject, site: Site, kept: KeptForWhen, at: SeasonMoment): Season {
  return seasonsAt(site, kept, at)(subject);
}

/** The seasons at one site, all sightings moved there once. */
function seasonsAt(site: Site, kept: KeptForWhen, at: SeasonMoment): (subject: Subject) => Season {
  const { position } = site;
  const all = at.sightings ?? sightingsOf(kept);
  const here = all.map((one) => ({ ...one, seen: seenFrom(one.seen, position) }));
  const today = { year: yearOf(at.nowMs), dayOfYear: dayOfYear(at.nowMs) };
  const asOf = seasonDay(today, position.latitudeDeg);
  return (subject) =>
    seasonAt({
      seen: all.find(({ subjectId }) => subjectId === subject.id)?.seen ?? [],
      months: subject.months,
      place: position,
      year: surerShift(shiftByOrder(subject.id, here, asOf), at.warmth ?? null),
    });
}

/** The wanted pictures that a site could give, open ones only, each with what its subject and its season there ask. */
export function wantedHoursAt(site: Site, kept: KeptForWhen, at: SeasonMoment): WantedHours[] {
  const seasonOf = seasonsAt(site, kept, at);
  const seasons = new Map<string, Season>();
  return openAt(site.id, kept).map((wanted): WantedHours => {
    const subject = subjectOf(wanted.subjectId, kept);
    const known = seasons.get(wanted.subjectId);
    const season = known ?? (subject === undefined ? null : seasonOf(subject));
    if (season !== null) seasons.set(wanted.subjectId, season);
    const { id, siteId, light, stillness, drops, insects } = wanted;
    const opens = subject?.opens ?? null;
    return { id, siteId, light, stillness, drops, insects, opens, season: season?.curve ?? null };
  });
}

function openAt(siteId: string, { wantedPictures }: KeptForWhen): readonly WantedPicture[] {
  return wantedPictures.filter(
    (wanted) => wanted.closedBy === null && (wanted.siteId === null || wanted.siteId === siteId),
  );
}

const subjectOf = (id: string, { subjects }: KeptForWhen) => subjects.find((subject) => subject.id === id);
