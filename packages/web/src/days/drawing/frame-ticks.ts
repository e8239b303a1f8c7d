/** The frames taken, as ticks on the ribbon of their day. */
import type { LibraryFrame } from '@tepal/formats';
import { writtenOffsetMin } from '../../words/clock.ts';
import type { Day } from '../day-split.ts';

export interface FrameTick {
  readonly id: string;
  readonly timeMs: number;
  readonly sharp: boolean;
}

/**
 * The ticks of a day.
 *
 * @param frames frames of the library; those without a time are left out
 * @param day a camera that wrote no offset is taken to run on the clock of the place
 */
export function ticksOf(frames: readonly LibraryFrame[], day: Day): readonly FrameTick[] {
  const endMs = day.startMs + 86_400_000;
  return frames.flatMap(({ id, takenAt, largestDelivery }) => {
    if (takenAt === null) return [];
    const zoned = writtenOffsetMin(takenAt) !== null || takenAt.endsWith('Z');
    const timeMs = zoned ? Date.parse(takenAt) : Date.parse(`${takenAt}Z`) - day.offsetMin * 60_000;
    const isThatDay = timeMs >= day.startMs && timeMs < endMs;
    return isThatDay ? [{ id, timeMs, sharp: largestDelivery !== null }] : [];
  });
}

/** Ticks closer than this would run into one [px]. */
const tickGapPx = 2;

/**
 * The ticks that can be told apart, from left to right; of those that fall together a sharp one stays.
 *
 * @param xOf where a moment is drawn [px]
 */
export function tellableTicks(
  ticks: readonly FrameTick[],
  xOf: (timeMs: number) => number,
): readonly FrameTick[] {
  const shown: FrameTick[] = [];
  for (const tick of ticks.toSorted((a, b) => a.timeMs - b.timeMs)) {
    const last = shown.at(-1);
    if (last === undefined || xOf(tick.timeMs) - xOf(last.timeMs) >= tickGapPx) shown.push(tick);
    else if (tick.sharp && !last.sharp) shown[shown.length - 1] = { ...tick, timeMs: last.timeMs };
  }
  return shown;
}
