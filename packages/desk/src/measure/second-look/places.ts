/** Which frame of a series is sharpest where, and at which other places who moved can be told. */
import type { FrameSurvey } from '@tepal/imaging';
import { DeskFault } from '../../files/faults.ts';
import type { Library } from '../../library/library.ts';
import { surveyFromBytes } from '../../library/survey-bytes.ts';
import type { SurveyedFrame } from '../survey-pass.ts';

export interface PlaceOptions {
  readonly library: Library;
}

/** @throws DeskFault when the library has it no longer */
export function surveyOf(frame: SurveyedFrame, { library }: PlaceOptions): FrameSurvey {
  const bytes = library.survey(frame.id);
  if (bytes === null)
    throw new DeskFault(`The library has lost the survey of ${frame.file}; measure again.`, 3);
  return surveyFromBytes(bytes);
}

/** The frame with the most fine detail about its guessed point. */
export function sharpest(frames: readonly SurveyedFrame[], options: PlaceOptions): SurveyedFrame | null {
  return sharpestAt(frames, (frame) => frame.guess, options);
}

export function sharpestAt(
  frames: readonly SurveyedFrame[],
  pointOf: (frame: SurveyedFrame) => { readonly x: number; readonly y: number },
  options: PlaceOptions,
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
export function otherPlaces(survey: FrameSurvey, point: { readonly x: number; readonly y: number }) {
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
