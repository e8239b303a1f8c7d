/**
 * The clock of the place, as the photographs tell it: the offset that the camera wrote. Forecasts speak in UTC, so
 * without a photograph the clock is judged from the reader's own.
 */
import { signal, type Signal } from '@preact/signals';
import type { LibraryFrame, StoreName } from '@tepal/formats';
import { writtenOffsetMin } from '../words/clock.ts';

const clocks: Readonly<Record<StoreName, Signal<number | null>>> = {
  mine: signal<number | null>(null),
  invented: signal<number | null>(null),
};

/** Minutes east of UTC; null before a photograph with an offset was seen. */
export const placeClock = (store: StoreName): Signal<number | null> => clocks[store];

/** Takes the offset from the newest frame that has one. */
export function readPlaceClock(store: StoreName, frames: readonly LibraryFrame[]): void {
  for (const { takenAt } of frames.toReversed()) {
    const offset = takenAt === null ? null : writtenOffsetMin(takenAt);
    if (offset === null) continue;
    clocks[store].value = offset;
    return;
  }
}
