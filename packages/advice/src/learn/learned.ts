/** What was learned, as factors and floors with their ranges, and the odds of a frame under all that is uncertain. */
import {
  departedShares,
  normalPoints,
  probabilityWithin,
  type NominalFrame,
  type NormalPrior,
  type Support,
} from '@tepal/science';
import { parameterNames, type PosteriorOfAll } from './posterior.ts';
import * as prior from './priors.ts';

/** A factor on what the formulas take as typical, as a log-normal law. */
export interface LearnedFactor {
  /** [1]; 1 is typical. */
  readonly median: number;
  readonly interval90: readonly [low: number, high: number];
  /** Standard deviation of the natural log [1]. */
  readonly logSpread: number;
  /** Frames that bear on it; 0 where it is the prior. */
  readonly frames: number;
}

/** 90 % of a normal law lie within so many standard deviations. */
const HALF_90 = 1.6449;

interface Named {
  readonly name: string;
  readonly law: NormalPrior;
}

/** Hands on a support, against typical ones; the day's form left out. */
export function learnedHands(all: PosteriorOfAll, support: Support): LearnedFactor {
  return factorOf(all, [
    { name: parameterNames.hands, law: prior.HANDS },
    { name: parameterNames.support(support), law: prior.SUPPORT },
  ]);
}

/** How far the plane of focus lies off, against typical. */
export function learnedPlacement(all: PosteriorOfAll): LearnedFactor {
  return factorOf(all, [{ name: parameterNames.placement, law: prior.PLACEMENT }]);
}

/** The mean wind at a site against its forecast brought down to the plant. */
export function learnedWind(all: PosteriorOfAll, siteId: string): LearnedFactor {
  return factorOf(all, [{ name: parameterNames.siteWind(siteId), law: prior.SITE_WIND }]);
}

/** The wind in which frames are released against the mean wind. */
export function learnedLull(all: PosteriorOfAll): LearnedFactor {
  return factorOf(all, [{ name: parameterNames.lull, law: prior.LULL }]);
}

/** How far a plant sways against its kind of stem in the same wind. */
export function learnedPlant(all: PosteriorOfAll, subjectId: string): LearnedFactor {
  return factorOf(all, [{ name: parameterNames.plant(subjectId), law: prior.PLANT }]);
}

/** The blur of a lens at an aperture in a kind of file when nothing moves, against what the formulas expect. */
export function learnedFloor(
  all: PosteriorOfAll,
  lens: string,
  fileKind: string,
  fNumber: number,
): LearnedFactor {
  return factorOf(all, [
    { name: parameterNames.floor(lens, fileKind), law: prior.FLOOR },
    { name: parameterNames.floorAt(lens, fileKind, fNumber), law: prior.FLOOR_AT_APERTURE },
  ]);
}

/** The same factor before anything was measured. */
export function priorFactor(laws: readonly NormalPrior[]): LearnedFactor {
  return logNormal(
    laws.reduce((sum, law) => sum + law.mean, 0),
    laws.reduce((sum, law) => sum + law.spread ** 2, 0),
    0,
  );
}

function factorOf(all: PosteriorOfAll, parts: readonly Named[]): LearnedFactor {
  const { mean, variance } = sumOf(all, parts, parts);
  const places = parts.map(({ name }) => all.places.get(name));
  const frames = places.map((place) => (place === undefined ? 0 : all.frames[place]!));
  // A support that was never used is known by the hands alone; then its own frames, none, are what is told.
  return logNormal(mean, variance, frames.at(-1) ?? 0);
}

function logNormal(mean: number, variance: number, frames: number): LearnedFactor {
  const logSpread = Math.sqrt(Math.max(variance, 0));
  return {
    median: Math.exp(mean),
    interval90: [Math.exp(mean - HALF_90 * logSpread), Math.exp(mean + HALF_90 * logSpread)],
    logSpread,
    frames,
  };
}

/** Mean of one sum of parameters, and its covariance with another; a parameter that was never met is its prior. */
function sumOf(
  all: PosteriorOfAll,
  a: readonly Named[],
  b: readonly Named[],
): { mean: number; variance: number } {
  let mean = 0;
  let variance = 0;
  for (const one of a) {
    const i = all.places.get(one.name);
    mean += i === undefined ? one.law.mean : all.mode[i]!;
    for (const other of b) {
      const j = all.places.get(other.name);
      if (i !== undefined && j !== undefined) variance += all.covariance[i]![j]!;
      else if (one.name === other.name) variance += one.law.spread ** 2;
    }
  }
  return { mean, variance };
}

/** Where and what one is about to photograph; what is null is not known, and nothing of it was learned. */
export interface AboutToPhotograph {
  readonly support: Support;
  readonly siteId: string | null;
  readonly subjectId: string | null;
}

/**
 * What was learned, as the exposure advice takes it. Only what frames bear on is in it, so that a new photographer gets
 * the advice's own typical figures.
 *
 * The wind is that of the forecast brought down to the plant: the site's factor, a new day, and the lulls that this
 * photographer waits for. It must not be put on a wind that was measured at the plant.
 */
export function learnedForExposure(
  all: PosteriorOfAll,
  { support, siteId, subjectId }: AboutToPhotograph,
): {
  readonly hands?: LearnedFactor;
  readonly placement?: LearnedFactor;
  readonly plant?: LearnedFactor;
  readonly wind?: LearnedFactor;
} {
  const known = <Name extends string>(name: Name, factor: LearnedFactor | null) =>
    factor === null || factor.frames === 0
      ? {}
      : ({ [name]: factor } as { readonly [N in Name]: LearnedFactor });
  const wind =
    siteId === null
      ? null
      : factorOf(all, [
          { name: parameterNames.windOfDay('the day to come'), law: prior.WIND_OF_DAY },
          { name: parameterNames.lull, law: prior.LULL },
          { name: parameterNames.siteWind(siteId), law: prior.SITE_WIND },
        ]);
  return {
    ...known('hands', learnedHands(all, support)),
    ...known('placement', learnedPlacement(all)),
    ...known('plant', subjectId === null ? null : learnedPlant(all, subjectId)),
    ...known('wind', wind),
  };
}

/** Circumstances of frames to come, on a day that has not been yet. */
export interface FrameToCome {
  readonly nominal: NominalFrame;
  /** Largest sigma that counts as sharp, squared, in the nominal frame's unit. */
  readonly limit: number;
  readonly lens: string;
  readonly fileKind: string;
  readonly fNumber: number;
  readonly support: Support;
  readonly siteId: string;
  readonly subjectId: string;
}

/** Points over what is uncertain. */
const POINTS = 64;

/** Chance that such a frame is sharp, the mean over everything that is not known exactly, the new day included. */
export function chanceSharpAsLearned(all: PosteriorOfAll, frame: FrameToCome): number {
  const { lens, fileKind, fNumber, support, siteId, subjectId } = frame;
  const day = 'the day to come';
  const sums: readonly (readonly Named[])[] = [
    [
      { name: parameterNames.floor(lens, fileKind), law: prior.FLOOR },
      { name: parameterNames.floorAt(lens, fileKind, fNumber), law: prior.FLOOR_AT_APERTURE },
    ],
    [{ name: parameterNames.placement, law: prior.PLACEMENT }],
    [
      { name: parameterNames.hands, law: prior.HANDS },
      { name: parameterNames.support(support), law: prior.SUPPORT },
      { name: parameterNames.handsOfDay(day), law: prior.HANDS_OF_DAY },
    ],
    [{ name: parameterNames.plant(subjectId), law: prior.PLANT }],
    [
      { name: parameterNames.siteWind(siteId), law: prior.SITE_WIND },
      { name: parameterNames.windOfDay(day), law: prior.WIND_OF_DAY },
      { name: parameterNames.lull, law: prior.LULL },
    ],
  ];
  const mean = sums.map((sum) => sumOf(all, sum, sum).mean);
  const covariance = sums.map((a) => sums.map((b) => sumOf(all, a, b).variance));
  const points = normalPoints(mean, covariance, POINTS);
  const chances = points.map(([floor = 0, placement = 0, camera = 0, subject = 0, wind = 0]) =>
    chanceWithin(frame, { floor, placement, camera, subject, wind }),
  );
  return chances.reduce((a, b) => a + b, 0) / POINTS;
}

function chanceWithin({ nominal, limit }: FrameToCome, by: Parameters<typeof departedShares>[1]): number {
  const { floor, placement, camera, cameraEven, subject, subjectEven } = departedShares(nominal, by);
  const odd = (camera * (1 - cameraEven)) / 2;
  const even = (camera * cameraEven) / 2;
  const weights = [odd + subject * (1 - subjectEven), odd, even + subject * subjectEven, even, placement];
  return probabilityWithin(weights, limit - floor);
}
