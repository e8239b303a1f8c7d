/** The few frames of an outing that are worth looking at first, different from one another. */
import type { MeasuredFrame } from '@tepal/formats';
import { requireInteger } from '@tepal/science';
import { compareFileNames } from '../files/file-name-order.ts';
import { sharpnessOf, type Sharpness } from '../ranking.ts';

/** What choosing looks at. */
export type FrameToShortList = Pick<MeasuredFrame, 'file' | 'series' | 'rank' | 'blur' | 'clipped'>;

export interface ShortListOptions<Frame> {
  /** Largest sharp sigma of a frame [px]. */
  limitPxOf(frame: Frame): number;
  /** How many at most; 12 unless given. */
  readonly most?: number;
  /** How alike two frames of different series look [0..1]; null where it was not looked at. */
  readonly likeness?: (a: Frame, b: Frame) => number | null;
  /** What a frame shows, where it was named: a second one of the same counts for less. */
  readonly subjectOf?: (frame: Frame) => string | null;
}

export interface ShortListed<Frame> {
  readonly frame: Frame;
  readonly why: string;
}

/** Worth of a frame by its sharpness (our choice, no source): "cannot tell" is worth a look, soft is not. */
const WORTH: Readonly<Record<Sharpness, number>> = { sharp: 1, nearly: 0.6, cannotTell: 0.5, soft: 0 };
const PER_RANK = 0.1;
const LEAST_BY_RANK = 0.4;
const SAME_SERIES = 0.6;
const SAME_SUBJECT = 0.2;
const ALIKE = 0.5;
const BURNT = 1;
const LEAST_WORTH = 0.15;

/**
 * Chooses a few frames across the outing, keeping variety.
 *
 * One after another: the frame that is worth most, less for every frame already chosen from its series, of its subject
 * or looking like it. So the best of each series come first, the sharpest subjects before, and a second frame of a
 * series only when nothing else is left that is worth a look. Soft frames are never listed.
 *
 * @param frames of the outing, in any order; the result does not depend on it
 * @throws DomainError if `most` is no whole number from 1
 */
export function shortList<Frame extends FrameToShortList>(
  frames: readonly Frame[],
  options: ShortListOptions<Frame>,
): readonly ShortListed<Frame>[] {
  const { limitPxOf, most = 12 } = options;
  requireInteger('most', most, { min: 1 });
  const left = [...frames].sort((a, b) => compareFileNames(a.file, b.file));
  const chosen: ShortListed<Frame>[] = [];
  while (chosen.length < most && left.length > 0) {
    const worths = left.map((frame) => {
      const sharpness = sharpnessOf(frame.blur.sigmaPx, limitPxOf(frame));
      return worthOf(frame, sharpness) - repeats(frame, chosen, options);
    });
    const best = worths.indexOf(Math.max(...worths));
    const [frame] = left.splice(best, 1);
    if (frame === undefined || !((worths[best] ?? 0) >= LEAST_WORTH)) break;
    chosen.push({ frame, why: whyChosen(frame, chosen, limitPxOf(frame)) });
  }
  return chosen;
}

function worthOf(frame: FrameToShortList, sharpness: Sharpness): number {
  if (sharpness === 'soft') return 0;
  const byRank = frame.rank === null ? 0.5 : Math.max(LEAST_BY_RANK, 1 - PER_RANK * (frame.rank - 1));
  const { red, green, blue } = frame.clipped;
  return WORTH[sharpness] * byRank - BURNT * Math.min(0.3, Math.max(red, green, blue));
}

function repeats<Frame extends FrameToShortList>(
  frame: Frame,
  chosen: readonly ShortListed<Frame>[],
  { likeness, subjectOf }: ShortListOptions<Frame>,
): number {
  let same = 0;
  let subject = 0;
  let alike = 0;
  for (const { frame: other } of chosen) {
    if (other.series === frame.series) same += SAME_SERIES;
    else alike = Math.max(alike, ALIKE * Math.max(0, likeness?.(frame, other) ?? 0));
    const name = subjectOf?.(frame) ?? null;
    if (name !== null && name === (subjectOf?.(other) ?? null)) subject = SAME_SUBJECT;
  }
  return same + subject + alike;
}

function whyChosen<Frame extends FrameToShortList>(
  frame: Frame,
  before: readonly ShortListed<Frame>[],
  limitPx: number,
): string {
  const words = {
    sharp: 'sharp',
    nearly: 'nearly sharp',
    cannotTell: 'how sharp cannot be told',
    soft: 'soft',
  };
  const is = words[sharpnessOf(frame.blur.sigmaPx, limitPx)];
  if (before.some(({ frame: other }) => other.series === frame.series)) return `another of its series, ${is}`;
  return frame.rank === 1 ? `the best of its series, ${is}` : `of its series, ${is}`;
}
