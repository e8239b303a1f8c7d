/** From outings to what is known of hands, placement, sites, plants and lenses: all of it together, each time anew. */
import {
  chanceMeasuredAbove,
  correlationAfter,
  F_NUMBER_DIAL,
  gaussianPosterior,
  logChanceOfFrame,
  STEM_CLASSES,
  SUPPORTS,
  type Departures,
  type EvidenceAlternative,
  type EvidenceGroup,
  type EvidenceTerm,
  type MeasuredBlur,
  type NominalFrame,
  type NormalPosterior,
  type NormalPrior,
  type Support,
} from '@tepal/science';
import {
  measuredBlurOf,
  nominalFrame,
  type FrameToLearn,
  type OutingToLearn,
  type SeriesToLearn,
} from './frame-to-learn.ts';
import * as prior from './priors.ts';

/** A parameter by name: "hands", "support elbows", "wind meadow", ... */
export interface PosteriorOfAll extends NormalPosterior {
  readonly priors: readonly NormalPrior[];
  /** Place of each parameter. */
  readonly places: ReadonlyMap<string, number>;
  /** Frames that bear on each parameter. */
  readonly frames: readonly number[];
  /** Frames used, and those whose blur could not be measured. */
  readonly used: number;
  readonly unmeasured: number;
}

export const parameterNames = {
  hands: 'hands',
  support: (support: Support) => `support ${support}`,
  handsOfDay: (outingId: string) => `hands on ${outingId}`,
  placement: 'placement',
  siteWind: (siteId: string) => `wind ${siteId}`,
  windOfDay: (outingId: string) => `wind on ${outingId}`,
  lull: 'lull',
  plant: (subjectId: string) => `plant ${subjectId}`,
  floor: (lens: string, fileKind: string) => `floor ${lens} ${fileKind}`,
  floorAt: (lens: string, fileKind: string, fNumber: number) =>
    `floor ${lens} ${fileKind} f/${wholeStop(fNumber)}`,
  deleted: 'deleted',
} as const;

/** Apertures within half a stop share a floor: the nearest whole stop, as marked. */
function wholeStop(fNumber: number): number {
  const thirds = 3 * Math.round(2 * Math.log2(fNumber));
  return F_NUMBER_DIAL.find((position) => position.thirds === thirds)?.marked ?? fNumber;
}

/** All evidence there is, weighed together. Without any it is the priors. */
export function learnFromOutings(outings: readonly OutingToLearn[]): PosteriorOfAll {
  const book = new ParameterBook();
  const groups: EvidenceGroup[] = [];
  let used = 0;
  let unmeasured = 0;
  for (const outing of outings) {
    const felt = feltWind(book, outing);
    if (felt !== null) groups.push([{ logWeight: 0, terms: [felt] }]);
    outing.series.forEach((series, i) => {
      const measured = series.frames.flatMap((frame) => {
        const blur = measuredBlurOf(frame);
        return blur === null ? [] : [{ frame, blur }];
      });
      unmeasured += series.frames.length - measured.length;
      used += measured.length;
      if (measured.length > 0) groups.push(groupOf(book, outing, series, measured, `${outing.id} ${i}`));
    });
  }
  const posterior = gaussianPosterior(book.priors, groups);
  return { ...posterior, priors: book.priors, places: book.places, frames: book.frames, used, unmeasured };
}

/** The parameters met so far, each with its place. */
class ParameterBook {
  readonly priors: NormalPrior[] = [];
  readonly places = new Map<string, number>();
  readonly frames: number[] = [];

  /** The place of a parameter, made when first asked for. */
  place(name: string, law: NormalPrior): number {
    const known = this.places.get(name);
    if (known !== undefined) return known;
    const place = this.priors.length;
    this.places.set(name, place);
    this.priors.push(law);
    this.frames.push(0);
    return place;
  }
}

interface Measured {
  readonly frame: FrameToLearn;
  readonly blur: MeasuredBlur;
}

/** Readings of a frame, in this order. */
interface FrameReadings {
  readonly floor: readonly number[];
  readonly placement: readonly number[];
  readonly camera: readonly number[];
  readonly subject: readonly number[];
  readonly wind: readonly number[];
}

const departuresOf = ([floor, placement, camera, subject, wind]: readonly number[]): Departures => ({
  floor: floor ?? 0,
  placement: placement ?? 0,
  camera: camera ?? 0,
  subject: subject ?? 0,
  wind: wind ?? 0,
});

function groupOf(
  book: ParameterBook,
  outing: OutingToLearn,
  series: SeriesToLearn,
  measured: readonly Measured[],
  name: string,
): EvidenceGroup {
  const magnifications =
    series.magnification === null ? prior.POSSIBLE_MAGNIFICATIONS : [series.magnification];
  const supports = series.support === null ? SUPPORTS : [series.support];
  const stems = series.stem === 'unknown' ? STEM_CLASSES : [series.stem];
  const count = magnifications.length * supports.length * stems.length;
  const wind = windPlaces(book, outing);
  const touched = new Set<number>();
  const alternatives = magnifications.flatMap((magnification) =>
    supports.flatMap((support) =>
      stems.map((stem): EvidenceAlternative => {
        const assumed = { magnification, support, stem };
        const shared = {
          placement: [book.place(parameterNames.placement, prior.PLACEMENT)],
          camera: [
            book.place(parameterNames.hands, prior.HANDS),
            book.place(parameterNames.support(support), prior.SUPPORT),
            book.place(parameterNames.handsOfDay(outing.id), prior.HANDS_OF_DAY),
          ],
          subject:
            stem === null
              ? []
              : [book.place(parameterNames.plant(series.subjectId ?? `of ${name}`), prior.PLANT)],
          wind: stem === null ? [] : wind,
        };
        const terms = measured.map(({ frame, blur }): EvidenceTerm => {
          const readings = { floor: floorPlaces(book, frame), ...shared };
          for (const places of Object.values(readings)) for (const place of places) touched.add(place);
          return frameTerm(
            blur,
            nominalFrame(frame, assumed, outing.forecastWindMs),
            readings,
            weightOf(frame),
          );
        });
        const selection = selectionTerm(book, series, measured, shared, assumed, outing.forecastWindMs);
        return { logWeight: -Math.log(count), terms: [...terms, selection] };
      }),
    ),
  );
  for (const place of touched) book.frames[place]! += measured.length;
  return alternatives;
}

function floorPlaces(book: ParameterBook, { lens, fileKind, fNumber }: FrameToLearn): readonly number[] {
  return [
    book.place(parameterNames.floor(lens, fileKind), prior.FLOOR),
    book.place(parameterNames.floorAt(lens, fileKind, fNumber), prior.FLOOR_AT_APERTURE),
  ];
}

/** The wind of a frame: the site's, the day's, and that of the lulls that are waited for. */
function windPlaces(book: ParameterBook, outing: OutingToLearn): readonly number[] {
  return [...meanWindPlaces(book, outing), book.place(parameterNames.lull, prior.LULL)];
}

function meanWindPlaces(
  book: ParameterBook,
  { id, siteId, forecastWindMs }: OutingToLearn,
): readonly number[] {
  const day = parameterNames.windOfDay(id);
  // Without a forecast the day's wind says nothing of the site.
  if (forecastWindMs === null) return [book.place(day, prior.UNKNOWN_WIND)];
  return [
    book.place(parameterNames.siteWind(siteId ?? `on ${id}`), prior.SITE_WIND),
    book.place(day, prior.WIND_OF_DAY),
  ];
}

/** Wind felt at the plant against the forecast's; null where either is missing. */
function feltWind(book: ParameterBook, outing: OutingToLearn): EvidenceTerm | null {
  const { feltWindMs, forecastWindMs } = outing;
  if (feltWindMs === null) return null;
  const found = Math.log(feltWindMs / (forecastWindMs ?? prior.UNKNOWN_WIND_MS));
  return {
    readings: [meanWindPlaces(book, outing)],
    logChance: ([wind = 0]) => -0.5 * ((found - wind) / prior.FELT_WIND_SPREAD) ** 2,
  };
}

/** Frames of one burst share a gust and a sway: an autoregressive row of n counts as n (1 - rho)/(1 + rho). */
function weightOf({ afterS }: FrameToLearn): number {
  if (afterS === null) return 1;
  const rho = correlationAfter(Math.max(0, afterS), prior.FORGETTING_S);
  return Math.max(0.02, (1 - rho) / (1 + rho));
}

function frameTerm(
  blur: MeasuredBlur,
  nominal: NominalFrame,
  { floor, placement, camera, subject, wind }: FrameReadings,
  weight: number,
): EvidenceTerm {
  return {
    readings: [floor, placement, camera, subject, wind],
    logChance: (readings) => weight * logChanceOfFrame(blur, nominal, departuresOf(readings)),
  };
}

/**
 * What was deleted before anything was measured. Blurred frames go with a chance of their own, to be learned; where the
 * camera's numbering shows how many are gone each of them counts as probably blurred, else the kept ones count as
 * drawn from what would be kept.
 */
function selectionTerm(
  book: ParameterBook,
  series: SeriesToLearn,
  measured: readonly Measured[],
  shared: Omit<FrameReadings, 'floor'>,
  assumed: Parameters<typeof nominalFrame>[1],
  windMs: number | null,
): EvidenceTerm {
  const typical = measured[measured.length >> 1]!;
  const { frame, blur } = typical;
  const nominal = nominalFrame(frame, assumed, windMs);
  const logLimit = Math.log(frame.limitPx);
  const blurred = measured.filter((one) => one.blur.logSigma > Math.log(one.frame.limitPx)).length;
  const kept = measured.length;
  return {
    readings: [
      floorPlaces(book, frame),
      shared.placement,
      shared.camera,
      shared.subject,
      shared.wind,
      [book.place(parameterNames.deleted, prior.DELETED)],
    ],
    logChance: (readings) => {
      const goes = 1 / (1 + Math.exp(-(readings[5] ?? 0)));
      const beyond = chanceMeasuredAbove(logLimit, blur.spread, nominal, departuresOf(readings));
      const deletedOne = goes * beyond + prior.SHARP_DELETED * (1 - beyond);
      const keptOnes = blurred * Math.log(Math.max(1 - goes, 1e-6));
      if (series.deleted === null) return keptOnes - kept * Math.log(Math.max(1 - deletedOne, 1e-6));
      // Of a series of which nothing was kept nothing is known: those that are known kept at least one.
      const anyKept = 1 - deletedOne ** (kept + series.deleted);
      return keptOnes + series.deleted * Math.log(Math.max(deletedOne, 1e-6)) - Math.log(anyKept);
    },
  };
}
