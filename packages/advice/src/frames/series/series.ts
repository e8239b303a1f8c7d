/** Frames into series: of the same subject and framing, taken together. */
import type { MeasuredFrame } from '@tepal/formats';
import { compareFileNames } from '../files/file-name-order.ts';
import type { FileKind } from '../files/companions.ts';

/** What grouping looks at. `MeasuredFrame` holds most of it. */
export interface FrameToGroup extends Pick<MeasuredFrame, 'file' | 'widthPx' | 'heightPx' | 'exposure'> {
  /** The camera's own time as milliseconds, all of one zone [ms]; null where it wrote none. */
  readonly takenAtMs: number | null;
  /** Kind of the measured file: kinds are not mixed in a series, since their blur cannot be compared. */
  readonly kind: FileKind;
  /** Which camera, so that two clocks are not mixed; left out or null for one camera. */
  readonly camera?: string | null;
}

/**
 * How alike two frames look once laid over each other: 1 the same picture, 0 nothing in common, such as the
 * correlation of their small lumas after registration. Null where it was not looked at.
 */
export type Likeness<Frame> = (a: Frame, b: Frame) => number | null;

/** Where likeness stops counting for or against. */
export interface GroupingOptions {
  /** From here on, two frames show the same [0..1]; 0.75 unless given. */
  readonly alikeFrom?: number;
  /** Up to here, they show something else [0..1], below `alikeFrom`; 0.45 unless given. */
  readonly unlikeTo?: number;
}

/** Frames of one series in the order they were taken; `id` is the path of the first. */
export interface GroupedSeries<Frame> {
  readonly id: string;
  readonly frames: readonly Frame[];
}

/** After so long a pause it is another series, however alike [ms]. */
const LONGEST_PAUSE_MS = 20 * 60_000;
/** Whole-second clocks cannot tell a burst's gaps apart; below this the usual gap is not resolved [ms]. */
const SHORTEST_USUAL_GAP_MS = 2_000;
const LONGEST_USUAL_GAP_MS = 30_000;
/** A gap this many times the usual one speaks neither for nor against. */
const NEUTRAL_GAPS = 8;
/** How many gaps on each side make the usual gap at a place. */
const NEIGHBOURING_GAPS = 5;

/**
 * Groups frames into series.
 *
 * Frames are put in the order of their times, without times in that of their names, camera by camera and kind by
 * kind. Between two neighbours the evidence is added up in log-odds fashion: their likeness (at most 4 either way),
 * the gap against the usual gap round it (the median of eleven; at most 2 for, 4 against), and changes of f-number,
 * shutter and focal length (against). A frame turned on its side, or of other pixel dimensions, begins a new series,
 * and so does another focal length by more than a tenth. When one stray frame lies between two runs that look alike,
 * the runs are one series and the stray its own. With neither times nor likeness nothing says that two frames belong
 * together: each stands alone.
 *
 * The weights were chosen on simulated days (see the tests), not fitted to real ones.
 *
 * @param frames in any order: the result does not depend on it; files must differ
 * @param likeness asked for about one pair a frame, of neighbours only; symmetric
 * @returns series in the order of their first frames
 */
export function groupIntoSeries<Frame extends FrameToGroup>(
  frames: readonly Frame[],
  likeness: Likeness<Frame>,
  options: GroupingOptions = {},
): GroupedSeries<Frame>[] {
  const like = (a: Frame, b: Frame) => likenessEvidence(likeness(a, b), options);
  return sequencesOf(frames)
    .flatMap((sequence) => joinAcrossStrays(runsOf(sequence, like), like))
    .sort((a, b) => compareFrames(a[0], b[0]))
    .map((series) => ({ id: series[0].file, frames: series }));
}

type Run<Frame> = [Frame, ...Frame[]];
type Evidence<Frame> = (a: Frame, b: Frame) => number;

function runsOf<Frame extends FrameToGroup>(sequence: readonly Frame[], like: Evidence<Frame>): Run<Frame>[] {
  const gaps = sequence.slice(1).map((frame, i) => gapMs(sequence[i], frame));
  const runs: Run<Frame>[] = [];
  sequence.forEach((frame, i) => {
    const before = sequence[i - 1];
    const run = runs.at(-1);
    if (before === undefined || run === undefined || !belongTogether(before, frame, gaps, i - 1, like)) {
      runs.push([frame]);
    } else {
      run.push(frame);
    }
  });
  return runs;
}

function belongTogether<Frame extends FrameToGroup>(
  before: Frame,
  frame: Frame,
  gaps: readonly (number | null)[],
  at: number,
  like: Evidence<Frame>,
): boolean {
  const gap = gaps[at] ?? null;
  if (otherFraming(before, frame) || (gap !== null && gap > LONGEST_PAUSE_MS)) return false;
  const evidence = gapEvidence(gap, usualGapMs(gaps, at)) + exposureEvidence(before, frame);
  return evidence + like(before, frame) > 0;
}

/** Two runs on either side of a single stray frame, where they look alike, become one. */
function joinAcrossStrays<Frame extends FrameToGroup>(
  runs: readonly Run<Frame>[],
  like: Evidence<Frame>,
): Run<Frame>[] {
  const joined: Run<Frame>[] = [];
  for (const run of runs) {
    const stray = joined.at(-1);
    const earlier = joined.at(-2);
    const last = earlier?.at(-1);
    const soon = last !== undefined && (gapMs(last, run[0]) ?? 0) <= NEUTRAL_GAPS * SHORTEST_USUAL_GAP_MS * 2;
    if (
      stray?.length === 1 &&
      earlier !== undefined &&
      last !== undefined &&
      soon &&
      !otherFraming(last, run[0]) &&
      like(last, run[0]) >= 3
    ) {
      earlier.push(...run);
    } else {
      joined.push([...run]);
    }
  }
  return joined;
}

function likenessEvidence(likeness: number | null, options: GroupingOptions): number {
  if (likeness === null || !Number.isFinite(likeness)) return 0;
  const { alikeFrom = 0.75, unlikeTo = 0.45 } = options;
  const middle = (alikeFrom + unlikeTo) / 2;
  const half = Math.max((alikeFrom - unlikeTo) / 2, 0.01);
  return 4 * clamp((likeness - middle) / half, -1, 1);
}

function gapEvidence(gap: number | null, usual: number): number {
  if (gap === null) return 0;
  return clamp(Math.log((NEUTRAL_GAPS * usual) / Math.max(gap, 1)), -4, 2);
}

/** The median of the gaps round a place: neither a burst nor one long pause moves it much. */
function usualGapMs(gaps: readonly (number | null)[], at: number): number {
  const near = gaps
    .slice(Math.max(0, at - NEIGHBOURING_GAPS), at + NEIGHBOURING_GAPS + 1)
    .filter((gap) => gap !== null)
    .sort((a, b) => a - b);
  const median = near[Math.floor((near.length - 1) / 2)] ?? 0;
  return clamp(median, SHORTEST_USUAL_GAP_MS, LONGEST_USUAL_GAP_MS);
}

/** A change of settings says little: one tries another shutter on the same flower. ISO, which floats, says nothing. */
function exposureEvidence(a: FrameToGroup, b: FrameToGroup): number {
  const changed = (x: number | null, y: number | null, ratio: number) =>
    x !== null && y !== null && x > 0 && y > 0 && Math.abs(Math.log(x / y)) > Math.log(ratio);
  const { exposure: ea } = a;
  const { exposure: eb } = b;
  return (
    (changed(ea.fNumber, eb.fNumber, 1.1) ? -0.8 : 0) +
    (changed(ea.exposureTimeS, eb.exposureTimeS, 1.2) ? -0.3 : 0) +
    (changed(ea.focalLengthMm, eb.focalLengthMm, 1.02) ? -1 : 0)
  );
}

function otherFraming(a: FrameToGroup, b: FrameToGroup): boolean {
  if (a.widthPx !== b.widthPx || a.heightPx !== b.heightPx) return true;
  const fa = a.exposure.focalLengthMm;
  const fb = b.exposure.focalLengthMm;
  return fa !== null && fb !== null && fa > 0 && fb > 0 && Math.abs(Math.log(fa / fb)) > Math.log(1.1);
}

function gapMs(a: FrameToGroup | undefined, b: FrameToGroup): number | null {
  if (a === undefined || a.takenAtMs === null || b.takenAtMs === null) return null;
  return Math.abs(b.takenAtMs - a.takenAtMs);
}

/** Frames of one camera, one kind of file, and with or without times, each in its order. */
function sequencesOf<Frame extends FrameToGroup>(frames: readonly Frame[]): Frame[][] {
  const sequences = new Map<string, Frame[]>();
  for (const frame of frames) {
    const key = JSON.stringify([frame.camera ?? '', frame.kind, frame.takenAtMs === null]);
    const sequence = sequences.get(key);
    if (sequence === undefined) sequences.set(key, [frame]);
    else sequence.push(frame);
  }
  return [...sequences.values()].map((sequence) => sequence.sort(compareFrames));
}

/** By time, then by name; frames without a time last. */
function compareFrames(a: FrameToGroup, b: FrameToGroup): number {
  const ta = a.takenAtMs ?? Number.POSITIVE_INFINITY;
  const tb = b.takenAtMs ?? Number.POSITIVE_INFINITY;
  if (ta !== tb) return ta < tb ? -1 : 1;
  return compareFileNames(a.file, b.file);
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}
