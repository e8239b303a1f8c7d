/** The second look at one series: the blur of each frame at the point, its cause, and the ranking with its reasons. */
import {
  brightnessSteps,
  deliveryLimitPx,
  focusMovement,
  focusSeriesWords,
  focusSide,
  movedFrames,
  rankSeries,
  repeatSeriesWords,
  seriesKind,
  sharpnessOf,
  type Delivery,
  type DetailMap,
  type LightMap,
} from '@tepal/advice';
import type { MeasuredFrame } from '@tepal/formats';
import { clutter, subjectRegion, type FrameSurvey, type MeasuredBlur } from '@tepal/imaging';
import { DeskFault, reasonOf } from '../files/faults.ts';
import type { KeptSeries } from '../library/library.ts';
import { carryPoints, registerSeries, type PointOfFocus, type SeriesRegistration } from './carry.ts';
import { openSecondLook, type Looked } from './second-look/gather.ts';
import { otherPlaces, sharpest, sharpestAt, surveyOf } from './second-look/places.ts';
import type { WindowStore } from './second-look/windows.ts';
import { inTurn, type PassOptions, type SurveyedFrame } from './survey-pass.ts';

export interface MeasuredOne {
  readonly id: string;
  readonly measured: MeasuredFrame;
}

export interface SeriesResult {
  readonly frames: readonly MeasuredOne[];
  /** Null when every frame of it failed. */
  readonly series: KeptSeries | null;
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
}

export interface SeriesOptions extends Pick<PassOptions, 'library' | 'pool' | 'signal'> {
  readonly delivery: Delivery;
  /** A point marked in one frame of the series; null to guess it. */
  readonly marked: { readonly frameId: string; readonly x: number; readonly y: number } | null;
  /** What the first pass left of the frames; without it every frame is decoded again. */
  readonly windows?: WindowStore;
  /** Called after each frame. */
  step(): void;
}

/** Frames whose crops are in memory at once in one thread, the reference beside them. */
const MOST_TOGETHER = 16;
const LEAST_TOGETHER = 4;

export async function measureSeries(
  id: string,
  frames: readonly SurveyedFrame[],
  options: SeriesOptions,
): Promise<SeriesResult> {
  const { signal, marked } = options;
  const anchor =
    frames.find((frame) => frame.id === marked?.frameId) ?? sharpest(frames, options) ?? frames[0]!;
  const start = marked ?? anchor.guess;
  const registered = await registerSeries(frames, anchor, options);
  const points = carryPoints(frames, anchor, start, marked === null ? 'guessed' : 'marked', registered);
  const pointOf = (frame: SurveyedFrame): PointOfFocus =>
    points.get(frame.id) ?? { ...start, origin: 'guessed' };

  const reference = sharpestAt(frames, pointOf, options) ?? anchor;
  const limitPx = deliveryLimitPx(reference.facts, options.delivery);
  const failed: { file: string; reason: string }[] = [];
  const measured: MeasuredOne[] = [];
  const attempt = async <T>(frame: SurveyedFrame, work: () => Promise<T>): Promise<T | null> => {
    try {
      return await work();
    } catch (error) {
      if (signal.aborted) throw new DeskFault('The work was stopped.');
      failed.push({ file: frame.file, reason: reasonOf(error) });
      return null;
    } finally {
      options.step();
    }
  };
  const look = openSecondLook({
    ...{ reference, pointOf, limitPx, pool: options.pool, windows: options.windows ?? null },
    elsewhere: otherPlaces(surveyOf(reference, options), pointOf(reference)),
  });
  const add = (one: Looked, blur: MeasuredBlur) => {
    const survey = surveyOf(one.frame, options);
    measured.push({
      id: one.frame.id,
      measured: asMeasured(id, one, pointOf(one.frame), blur, { survey, limitPx }),
    });
  };

  const first = await attempt(reference, () => look.atReference());
  const others = frames.filter((frame) => frame !== reference);
  const chunks = inChunks(others, options.pool.size);
  await inTurn(chunks, options.pool.size, async (chunk, i) => {
    if (signal.aborted) throw new DeskFault('The work was stopped.');
    const looked: Looked[] = [];
    for (const frame of chunk) {
      const found = await attempt(frame, () => look.at(frame));
      if (found !== null) looked.push(found);
    }
    const together = first === null ? looked : [first, ...looked];
    const blurs = await look.blurs(together);
    together.forEach((one, k) => {
      if (one !== first || i === 0) add(one, blurs[k]!);
    });
  });
  measured.sort((a, b) => order(frames, a.id) - order(frames, b.id));
  return {
    frames: ranked(measured, frames, limitPx),
    series: seriesOf(id, measured, frames, { limitPx, registered, options }),
    failed,
  };
}

/** As many as keep every thread at work; without any, one empty chunk stands for the reference alone. */
function inChunks(frames: readonly SurveyedFrame[], threads: number): readonly (readonly SurveyedFrame[])[] {
  const size = Math.min(MOST_TOGETHER, Math.max(LEAST_TOGETHER, Math.ceil(frames.length / threads)));
  const count = Math.max(1, Math.ceil(frames.length / size));
  return Array.from({ length: count }, (_, i) => frames.slice(i * size, (i + 1) * size));
}

function asMeasured(
  series: string,
  { frame, clipped, inRaw, evennessStops }: Looked,
  point: PointOfFocus,
  blur: MeasuredBlur,
  { survey, limitPx }: { readonly survey: FrameSurvey; readonly limitPx: number },
): MeasuredFrame {
  const { widthPx, heightPx, takenAt, exposure } = frame.facts;
  const isSoft = ['soft', 'cannotTell'].includes(sharpnessOf(blur.sigmaPx, limitPx));
  const lost = blur.cause === 'defocus' || blur.cause === 'both';
  const gradient = survey.gradientXX.map((xx, tile) => xx + survey.gradientYY[tile]!);
  return {
    ...{ file: frame.file, takenAt, series, widthPx, heightPx, exposure, point },
    blur: { ...blur, focusSide: lost ? focusSide({ ...survey, gradient }, point) : null },
    // Where nothing is sharp the map shows no subject.
    framing: isSoft ? null : subjectRegion(survey, point),
    clipped,
    ...(inRaw === null ? {} : { clippedInRaw: inRaw }),
    evennessStops,
    clutter: clutter(survey, point),
    rank: null,
    companions: frame.companions,
    reasons: [],
  };
}

function ranked(
  measured: readonly MeasuredOne[],
  frames: readonly SurveyedFrame[],
  limitPx: number,
): readonly MeasuredOne[] {
  const kinds = new Map(frames.map((frame) => [frame.file, frame.kind]));
  const places = rankSeries(
    measured.map(({ measured: frame }) => ({ ...frame, kind: kinds.get(frame.file) ?? 'jpeg' })),
    limitPx,
  );
  const byFile = new Map(places.map((place) => [place.file, place]));
  return measured.map(({ id, measured: frame }) => {
    const place = byFile.get(frame.file);
    return { id, measured: { ...frame, rank: place?.rank ?? null, reasons: place?.reasons ?? [] } };
  });
}

function seriesOf(
  id: string,
  measured: readonly MeasuredOne[],
  frames: readonly SurveyedFrame[],
  {
    limitPx,
    registered,
    options,
  }: {
    readonly limitPx: number;
    readonly registered: SeriesRegistration;
    readonly options: SeriesOptions;
  },
): KeptSeries | null {
  const files = measured.map(({ measured: frame }) => frame.file);
  const best = ranked(measured, frames, limitPx).find(({ measured: frame }) => frame.rank === 1);
  if (best === undefined) return null;
  const inSeries = frames.filter(({ file }) => files.includes(file));
  // The tile grids of one series are in memory at a time, reduced to what tells where it is sharp and how bright.
  const maps = inSeries.map((frame): DetailMap & LightMap => {
    const { columns, rows, detail, meanLuma } = surveyOf(frame, options);
    return { columns, rows, detail, meanLuma };
  });
  const movement = focusMovement(maps);
  const times = inSeries.map(({ facts }) => facts.takenAt).filter((time) => time !== null);
  return {
    ...{ id, files, best: best.measured.file, ...seriesKind(inSeries.length, movement) },
    saying:
      movement.kind === 'focus'
        ? focusSeriesWords(movement, inSeries.length, {
            steps: brightnessSteps(maps),
            moved: movedFrames(inSeries.map((frame) => registered.get(frame.id)?.correlation ?? null)),
            best: best.measured.file,
          })
        : repeatSeriesWords(
            measured.map(({ measured: frame }) => frame),
            limitPx,
          ),
    startedAt: times[0] ?? null,
    endedAt: times.at(-1) ?? null,
  };
}

const order = (frames: readonly SurveyedFrame[], id: string) => frames.findIndex((frame) => frame.id === id);
