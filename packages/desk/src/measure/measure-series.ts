/** The second look at one series: the blur of each frame at the point, its cause, and the ranking with its reasons. */
import {
  deliveryLimitPx,
  focusMovement,
  focusSeriesWords,
  rankSeries,
  repeatSeriesWords,
  seriesKind,
  type Delivery,
  type DetailMap,
} from '@tepal/advice';
import type { MeasuredFrame } from '@tepal/formats';
import { clutter, type FrameSurvey, type MeasuredBlur } from '@tepal/imaging';
import { DeskFault, reasonOf } from '../files/faults.ts';
import type { KeptSeries } from '../library/library.ts';
import { surveyFromBytes } from '../library/survey-bytes.ts';
import { carryPoints, registerSeries, type PointOfFocus } from './carry.ts';
import type { LookResult } from './look.ts';
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
  /** Called after each frame. */
  step(): void;
}

/** Frames whose crops are in memory at once, the reference beside them. */
const CHUNK = 16;

type Looked = LookResult & { readonly frame: SurveyedFrame };

export async function measureSeries(
  id: string,
  frames: readonly SurveyedFrame[],
  options: SeriesOptions,
): Promise<SeriesResult> {
  const { library, signal, marked } = options;
  const anchor =
    frames.find((frame) => frame.id === marked?.frameId) ?? sharpest(frames, options) ?? frames[0]!;
  const start = marked ?? anchor.guess;
  const registered = await registerSeries(frames, anchor, options);
  const points = carryPoints(frames, anchor, start, marked === null ? 'guessed' : 'marked', registered);
  const pointOf = (frame: SurveyedFrame): PointOfFocus =>
    points.get(frame.id) ?? { ...start, origin: 'guessed' };

  const reference = sharpestAt(frames, pointOf, options) ?? anchor;
  const elsewhere = otherPlaces(surveyOf(reference, options), pointOf(reference));
  const limitPx = deliveryLimitPx(reference.facts, options.delivery);
  const failed: { file: string; reason: string }[] = [];
  const measured: MeasuredOne[] = [];

  const look = async (frame: SurveyedFrame): Promise<Looked | null> => {
    try {
      const point = pointOf(frame);
      const moved = { x: point.x - pointOf(reference).x, y: point.y - pointOf(reference).y };
      const places = elsewhere.map(({ x, y }) => ({ x: clamp01(x + moved.x), y: clamp01(y + moved.y) }));
      const found = await options.pool.run('look', {
        path: frame.path,
        kind: frame.kind,
        point,
        elsewhere: places,
      });
      return { ...found, frame };
    } catch (error) {
      if (signal.aborted) throw new DeskFault('The work was stopped.');
      failed.push({ file: frame.file, reason: reasonOf(error) });
      return null;
    } finally {
      options.step();
    }
  };

  const first = await look(reference);
  const others = frames.filter((frame) => frame !== reference);
  for (let at = 0; at < Math.max(1, others.length); at += CHUNK) {
    if (signal.aborted) throw new DeskFault('The work was stopped.');
    const chunk = others.slice(at, at + CHUNK);
    const looked: Looked[] = [];
    await inTurn(chunk, options.pool.size, async (frame) => {
      const found = await look(frame);
      if (found !== null) looked.push(found);
    });
    looked.sort((a, b) => frames.indexOf(a.frame) - frames.indexOf(b.frame));
    const together = first === null ? looked : [first, ...looked];
    if (together.length === 0) continue;
    const blurs = await options.pool.run('blur', {
      crops: together.map(({ crop }) => crop),
      elsewhere: together.map(({ elsewhere: places }) => places),
      limitPx,
    });
    together.forEach((one, i) => {
      if (at > 0 && one === first) return;
      const blur = blurs[i];
      if (blur === undefined) return;
      const survey = library.survey(one.frame.id);
      const pull = survey === null ? null : clutter(surveyFromBytes(survey), pointOf(one.frame));
      measured.push({ id: one.frame.id, measured: asMeasured(id, one, pointOf(one.frame), blur, pull) });
    });
  }
  measured.sort((a, b) => order(frames, a.id) - order(frames, b.id));
  return {
    frames: ranked(measured, frames, limitPx),
    series: seriesOf(id, measured, frames, limitPx, options),
    failed,
  };
}

function asMeasured(
  series: string,
  { frame, clipped, evennessStops }: Looked,
  point: PointOfFocus,
  blur: MeasuredBlur,
  clutterShare: number | null,
): MeasuredFrame {
  const { widthPx, heightPx, takenAt, exposure } = frame.facts;
  return {
    ...{ file: frame.file, takenAt, series, widthPx, heightPx, exposure, point },
    blur,
    clipped,
    evennessStops,
    clutter: clutterShare,
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
  limitPx: number,
  options: SeriesOptions,
): KeptSeries | null {
  const files = measured.map(({ measured: frame }) => frame.file);
  const best = ranked(measured, frames, limitPx).find(({ measured: frame }) => frame.rank === 1);
  if (best === undefined) return null;
  const inSeries = frames.filter(({ file }) => files.includes(file));
  const movement = focusMovement(inSeries.map((frame) => detailMap(frame, options)));
  const times = inSeries.map(({ facts }) => facts.takenAt).filter((time) => time !== null);
  return {
    ...{ id, files, best: best.measured.file, ...seriesKind(inSeries.length, movement) },
    saying:
      movement.kind === 'focus'
        ? focusSeriesWords(movement, inSeries.length)
        : repeatSeriesWords(
            measured.map(({ measured: frame }) => frame),
            limitPx,
          ),
    startedAt: times[0] ?? null,
    endedAt: times.at(-1) ?? null,
  };
}

/** The tile grid of one frame is in memory at a time, reduced to what tells where it is sharp. */
export function detailMap(frame: SurveyedFrame, options: Pick<SeriesOptions, 'library'>): DetailMap {
  const { columns, rows, detail } = surveyOf(frame, options);
  return { columns, rows, detail };
}

function surveyOf(frame: SurveyedFrame, { library }: Pick<SeriesOptions, 'library'>): FrameSurvey {
  const bytes = library.survey(frame.id);
  if (bytes === null)
    throw new DeskFault(`The library has lost the survey of ${frame.file}; measure again.`, 3);
  return surveyFromBytes(bytes);
}

/** The frame with the most fine detail about its guessed point. */
function sharpest(frames: readonly SurveyedFrame[], options: SeriesOptions): SurveyedFrame | null {
  return sharpestAt(frames, (frame) => frame.guess, options);
}

function sharpestAt(
  frames: readonly SurveyedFrame[],
  pointOf: (frame: SurveyedFrame) => { readonly x: number; readonly y: number },
  options: SeriesOptions,
): SurveyedFrame | null {
  let best: SurveyedFrame | null = null;
  let most = -1;
  for (const frame of frames) {
    const detail = detailAt(surveyOf(frame, options), pointOf(frame));
    if (detail > most) {
      most = detail;
      best = frame;
    }
  }
  return best;
}

/** Mean fine detail of the tiles within half a crop of a place. */
function detailAt(survey: FrameSurvey, point: { readonly x: number; readonly y: number }): number {
  const { columns, rows, tilePx, width, height, detail } = survey;
  const reach = Math.max(1, Math.round(160 / tilePx));
  const column = Math.min(columns - 1, Math.floor((point.x * width) / tilePx));
  const row = Math.min(rows - 1, Math.floor((point.y * height) / tilePx));
  let sum = 0;
  let count = 0;
  for (let r = Math.max(0, row - reach); r <= Math.min(rows - 1, row + reach); r += 1) {
    for (let c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c += 1) {
      sum += detail[r * columns + c]!;
      count += 1;
    }
  }
  return count === 0 ? 0 : sum / count;
}

const OTHER_PLACES = 4;
const APART = 0.15;

/** Structured places away from the point: what happened there tells whether camera or subject moved. */
function otherPlaces(survey: FrameSurvey, point: { readonly x: number; readonly y: number }) {
  const { columns, rows, tilePx, width, height, detail } = survey;
  const places = Array.from(detail, (value, i) => ({
    value,
    x: (((i % columns) + 0.5) * tilePx) / width,
    y: ((Math.floor(i / columns) + 0.5) * tilePx) / height,
  })).sort((a, b) => b.value - a.value);
  const found: { x: number; y: number }[] = [];
  for (const { value, x, y } of places.slice(0, columns * rows)) {
    if (found.length >= OTHER_PLACES || value < 4) break;
    const far = [point, ...found].every(
      (other) => Math.hypot(other.x - x, ((other.y - y) * height) / width) > APART,
    );
    if (far && x < 0.95 && y < 0.95 && x > 0.05 && y > 0.05) found.push({ x, y });
  }
  return found;
}

const clamp01 = (value: number) => Math.min(1, Math.max(0, value));
const order = (frames: readonly SurveyedFrame[], id: string) => frames.findIndex((frame) => frame.id === id);
