/** From what the notebook keeps to what can be learned from: evidence, outings, set-ups and kit brought together. */
import {
  find,
  list,
  readFrameEvidence,
  type Camera,
  type FrameEvidence,
  type Lens,
  type Notebook,
  type Outing,
  type SetUp,
  type Site,
} from '@tepal/notebook';
import { parseInstantMs, parseWrittenTime } from '@tepal/formats';
import { DELIVERIES, deliveryLimitPx, type Delivery } from '../frames/delivery.ts';
import { matchSetUps } from '../match/set-ups.ts';
import { plantPlaceOfSite } from '../when/from-notebook.ts';
import { USUAL_PLANT, type PlantPlace } from '../when/place.ts';
import { wayDown } from '../when/hour/way-down.ts';
import type { FrameToLearn, OutingToLearn, SeriesToLearn } from './frame-to-learn.ts';

export interface Gathered {
  readonly outings: readonly OutingToLearn[];
  /** Frames that could not be used, by reason. */
  readonly unused: readonly { readonly why: string; readonly frames: number }[];
}

/** Gaps in the camera's numbering up to this are deleted frames; a larger one is another card or another day. Ours. */
const LARGEST_GAP = 30;

/** Everything in a notebook that can be learned from, with what had to be left out and why. */
export function gatherEvidence(notebook: Notebook, delivery: Delivery = DELIVERIES[0]!): Gathered {
  const unused = new Map<string, number>();
  const leave = (why: string, frames = 1): void => void unused.set(why, (unused.get(why) ?? 0) + frames);
  // A frame that two devices filed under different outings counts once.
  const seen = new Set<string>();
  const outings = list(notebook, 'evidence').flatMap((evidence): OutingToLearn[] => {
    const frames = Object.entries(evidence.frames).flatMap(([hash, line]) => {
      if (seen.has(hash)) return [];
      seen.add(hash);
      const frame = readFrameEvidence(hash, line);
      if (frame === null) leave('measured by a newer version');
      return frame ?? [];
    });
    const outing = evidence.outingId === null ? null : find(notebook, 'outing', evidence.outingId);
    const siteId = outing?.siteId ?? null;
    const site = siteId === null ? null : find(notebook, 'site', siteId);
    const series = seriesOf(notebook, outing, frames, delivery, leave);
    if (series.length === 0) return [];
    return [
      {
        id: evidence.id,
        siteId: site?.id ?? null,
        series,
        forecastWindMs: forecastWindMs(notebook, outing, site),
        feltWindMs: windOfBeaufort(outing?.feltWindBeaufort ?? null),
      },
    ];
  });
  return { outings, unused: [...unused].map(([why, count]) => ({ why, frames: count })) };
}

function seriesOf(
  notebook: Notebook,
  outing: Outing | null,
  frames: readonly FrameEvidence[],
  delivery: Delivery,
  leave: (why: string, frames?: number) => void,
): readonly SeriesToLearn[] {
  const setUps =
    outing === null ? [] : list(notebook, 'setUp').filter(({ outingId }) => outingId === outing.id);
  const matched = matchSetUps(
    frames.map(({ takenAtMs }) => takenAtMs),
    setUps,
    trueTimeOffsetS(outing),
  );
  const groups = new Map<string, { readonly frame: FrameEvidence; readonly setUp: SetUp | null }[]>();
  frames.forEach((frame, i) => {
    const match = matched[i]!;
    const setUp = match.kind === 'matched' ? match.setUp : null;
    const key = `${frame.series} ${setUp?.id ?? ''}`;
    groups.set(key, [...(groups.get(key) ?? []), { frame, setUp }]);
  });
  return [...groups.values()].flatMap((members): SeriesToLearn[] => {
    const ordered = [...members].sort((a, b) => (a.frame.takenAtMs ?? 0) - (b.frame.takenAtMs ?? 0));
    const { setUp } = ordered[0]!;
    const learned = ordered.flatMap(({ frame }, i): FrameToLearn[] => {
      const made = frameToLearn(notebook, frame, ordered[i - 1]?.frame ?? null, setUp, delivery);
      if (typeof made !== 'string') return [made];
      leave(made);
      return [];
    });
    if (learned.length === 0) return [];
    const subjectId = setUp?.subjectId ?? null;
    const subject = subjectId === null ? null : find(notebook, 'subject', subjectId);
    return [
      {
        frames: learned,
        magnification: setUp?.magnification ?? null,
        support: setUp?.support ?? null,
        subjectId: subject?.id ?? null,
        stem: subject?.stem ?? 'unknown',
        deleted: deletedBetween(ordered.map(({ frame }) => frame.fileNumber)),
      },
    ];
  });
}

/** The frame, or why it cannot be used. */
function frameToLearn(
  notebook: Notebook,
  frame: FrameEvidence,
  before: FrameEvidence | null,
  setUp: SetUp | null,
  delivery: Delivery,
): FrameToLearn | string {
  const { fNumber, exposureTimeS, focalLengthMm, widthPx, heightPx, sigmaPx } = frame;
  if (sigmaPx === null || !(sigmaPx > 0)) return 'their blur could not be measured';
  if (fNumber === null || exposureTimeS === null || !(fNumber > 0 && exposureTimeS > 0)) {
    return 'the camera wrote no f-number or no exposure time';
  }
  const camera = cameraOf(notebook, frame, setUp);
  if (camera === null) return 'the kit has no camera of their size, so the size of a pixel is not known';
  const lens = lensOf(notebook, focalLengthMm, setUp);
  if (lens === null) return 'the kit has no lens that they can have been taken with';
  const long = Math.max(camera.sensorWidthMm, camera.sensorHeightMm);
  return {
    hash: frame.hash,
    blur: { ...frame, motion: null },
    limitPx: deliveryLimitPx({ widthPx, heightPx }, delivery),
    pixelUm: (1000 * long) / Math.max(widthPx, heightPx),
    lens: lens.name,
    fileKind: frame.fileKind,
    focalLengthMm: focalLengthMm ?? lens.focalLengthMm,
    pupilMagnification: lens.pupilMagnification ?? 1,
    fNumber,
    exposureTimeS,
    stabilisation: lens.stabilisationStops,
    afterS: secondsBetween(before?.takenAtMs ?? null, frame.takenAtMs),
  };
}

function secondsBetween(fromMs: number | null, toMs: number | null): number | null {
  return fromMs === null || toMs === null ? null : (toMs - fromMs) / 1000;
}

/** The set-up's camera, else the only one of the kit whose frames have this size. */
function cameraOf(notebook: Notebook, frame: FrameEvidence, setUp: SetUp | null): Camera | null {
  const cameras = list(notebook, 'kit').filter((part): part is Camera => part.part === 'camera');
  const named = cameras.find(({ id }) => id === setUp?.cameraId);
  if (named !== undefined) return named;
  const long = Math.max(frame.widthPx, frame.heightPx);
  const alike = cameras.filter((camera) => {
    const own = Math.max(camera.widthPx, camera.heightPx);
    return Math.abs(own - long) <= 0.02 * own;
  });
  return alike.length === 1 ? alike[0]! : null;
}

/** The set-up's lens, else the only one of the kit of this focal length. */
function lensOf(notebook: Notebook, focalLengthMm: number | null, setUp: SetUp | null): Lens | null {
  const lenses = list(notebook, 'kit').filter((part): part is Lens => part.part === 'lens');
  const named = lenses.find(({ id }) => id === setUp?.lensId);
  if (named !== undefined) return named;
  const alike = lenses.filter(
    (lens) => focalLengthMm !== null && Math.abs(lens.focalLengthMm - focalLengthMm) <= 0.05 * focalLengthMm,
  );
  return alike.length === 1 ? alike[0]! : null;
}

/** Frames missing from the numbering within a series; null where numbers are missing or do not rise. */
function deletedBetween(numbers: readonly (number | null)[]): number | null {
  let deleted = 0;
  for (let i = 0; i < numbers.length; i++) {
    const number = numbers[i] ?? null;
    if (number === null) return null;
    const before = i === 0 ? null : numbers[i - 1]!;
    if (before === null) continue;
    if (number <= before || number - before - 1 > LARGEST_GAP) return null;
    deleted += number - before - 1;
  }
  return numbers.length > 1 ? deleted : null;
}

/** From the camera's digits to the true time: its zone, which is the outing's, and what its clock is off. */
function trueTimeOffsetS(outing: Outing | null): number {
  if (outing === null) return 0;
  const trueMs = parseInstantMs(outing.startedAt);
  const localMs = parseWrittenTime(outing.startedAt)?.localMs ?? null;
  const zoneS = trueMs === null || localMs === null ? 0 : (localMs - trueMs) / 1000;
  return (outing.cameraClockOffsetS ?? 0) - zoneS;
}

/** The way down does not hang on where it is. */
const NOWHERE = { latitudeDeg: 0, longitudeDeg: 0, altitudeM: 0 } as const;

/** The forecast's wind at the height of the outing's plants; null where none was kept. */
function forecastWindMs(notebook: Notebook, outing: Outing | null, site: Site | null): number | null {
  const wind = outing?.forecast?.windSpeedMs ?? null;
  if (outing === null || wind === null) return null;
  const heights = list(notebook, 'setUp').flatMap(({ outingId, subjectId }) => {
    const subject =
      outingId !== outing.id || subjectId === null ? null : find(notebook, 'subject', subjectId);
    return subject?.heightAboveGroundM ?? [];
  });
  const plantHeightM = heights[0] ?? null;
  const place: PlantPlace =
    site === null
      ? { ...USUAL_PLANT, ...NOWHERE, ...(plantHeightM === null ? {} : { plantHeightM }) }
      : plantPlaceOfSite(site, { plantHeightM, altitudeM: null });
  const { factors, shelterWord } = wayDown(place, 10);
  return wind * factors.reduce((product, { value }) => product * value, shelterWord?.value ?? 1);
}

/** @source WMO: v = 0.836 B^1.5 (FS W-29); calm counts as the middle of its band */
function windOfBeaufort(beaufort: number | null): number | null {
  if (beaufort === null) return null;
  return beaufort === 0 ? 0.15 : 0.836 * beaufort ** 1.5;
}
