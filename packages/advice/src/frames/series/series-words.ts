/** One sentence on a series: whether it is complete as a focus series, or why the rest fell behind the best. */
import type { MeasuredFrame } from '@tepal/formats';
import { asSentence } from '../amounts.ts';
import type { BrightnessStep } from './completeness.ts';
import type { FocusEnd, FocusMovement } from './focus-series.ts';
import { sharpnessOf } from '../ranking.ts';
import { listInWords, spoilersOf } from '../outing/spoilers.ts';

/** What else is known of a focus series; what is left out is not claimed. */
export interface FocusSeriesBesides {
  readonly steps?: readonly BrightnessStep[];
  /** Frames in which something moved, counted from 0. */
  readonly moved?: readonly number[];
  /** File of the best single frame. */
  readonly best?: string;
}

/**
 * Whether a focus series is complete, as far as its maps tell, and which single frame is best.
 *
 * @param movement what `focusMovement` found, of kind focus
 * @param frameCount frames of the series
 */
export function focusSeriesWords(
  movement: Extract<FocusMovement, { kind: 'focus' }>,
  frameCount: number,
  besides: FocusSeriesBesides = {},
): string {
  const single = besides.best === undefined ? '' : ` Best single frame: ${besides.best}.`;
  return `${completenessInWords(movement, frameCount, besides)}${single}`;
}

function completenessInWords(
  { gaps, firstEnd, lastEnd }: Extract<FocusMovement, { kind: 'focus' }>,
  frameCount: number,
  { steps = [], moved = [] }: FocusSeriesBesides,
): string {
  const faults = [
    ...(gaps.length > 0 ? [gapsInWords(gaps)] : []),
    ...steps.map(stepInWords),
    ...(moved.length > 0 ? [movedInWords(moved)] : []),
    ...(firstEnd === 'notReached' ? ['the first frame may still lie inside the subject'] : []),
    ...(lastEnd === 'notReached' ? ['the last frame may still lie inside the subject'] : []),
  ];
  const head = `Focus series of ${String(frameCount)} frames`;
  if (faults.length > 0) return `${head}, perhaps not complete: ${listInWords(faults)}.`;
  const open = unknownEnds(firstEnd, lastEnd);
  if (open === null) return `${head}, complete as far as the frames show: no gap, both ends reached.`;
  return `${head} without a gap; whether ${open} reached the end of the subject cannot be told.`;
}

function gapsInWords(gaps: readonly { readonly after: number }[]): string {
  const places = gaps.map(({ after }) => `${String(after + 1)} and ${String(after + 2)}`);
  return `the focus steps far between frames ${listInWords(places, 'and between')}`;
}

function stepInWords({ after, stops }: BrightnessStep): string {
  const way = stops > 0 ? 'brighter' : 'darker';
  return `it grows ${way} by ${Math.abs(stops).toFixed(1)} stops after frame ${String(after + 1)}`;
}

function movedInWords(moved: readonly number[]): string {
  const numbers = listInWords(moved.map((i) => String(i + 1)));
  return `something moved in frame${moved.length === 1 ? '' : 's'} ${numbers}`;
}

function unknownEnds(firstEnd: FocusEnd, lastEnd: FocusEnd): string | null {
  if (firstEnd === 'cannotTell' && lastEnd === 'cannotTell') return 'the first and last frames';
  if (firstEnd === 'cannotTell') return 'the first frame';
  return lastEnd === 'cannotTell' ? 'the last frame' : null;
}

/**
 * How many of a series of repeats are sharp, and what spoiled the rest.
 *
 * @param frames the series, in any order
 * @param limitPx the largest sharp sigma at the delivery asked for, the same for all [px], > 0
 */
export function repeatSeriesWords(frames: readonly Pick<MeasuredFrame, 'blur'>[], limitPx: number): string {
  const count = frames.length;
  const sharp = frames.filter(({ blur }) => sharpnessOf(blur.sigmaPx, limitPx) === 'sharp').length;
  if (count === 0) return 'No frames.';
  const spoiled = spoilersOf(frames, () => limitPx);
  if (count === 1) {
    if (sharp === 1) return 'One frame, sharp at the point.';
    const why = spoiled[0];
    return why === undefined ? 'One frame.' : `One frame: ${why.alone}.`;
  }
  if (sharp === count) {
    return count === 2 ? 'Both are sharp at the point.' : `All ${String(count)} are sharp at the point.`;
  }
  const head =
    sharp === 0 ? 'None is sharp at the point' : `${String(sharp)} of ${String(count)} sharp at the point`;
  return asSentence(`${head}; ${listInWords(spoiled.map((spoiler) => spoiler.clause))}.`);
}
