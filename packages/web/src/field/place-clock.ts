/**
 * The clock of the place, as the photographs tell it: the offset that the camera wrote. Forecasts speak in UTC, so
 * without a photograph the clock is judged from the reader's own.
 */
import { signal, type Signal } from '@preact/signals';
import type { LibraryFrame, StoreName } from '@tepal/formats';
import { writtenOffsetMin } from '../words/clock.ts';

const keyOf = (store: StoreName) => `tepal clock ${store}`;

/** As it was last seen, so that the hours read the same without the engine. */
function kept(store: StoreName): number | null {
  try {
    const found = localStorage.getItem(keyOf(store));
    return found === null || !Number.isFinite(Number(found)) ? null : Number(found);
  } catch {
    return null;
  }
}

function keep(store: StoreName, offsetMin: number): void {
  try {
    localStorage.setItem(keyOf(store), String(offsetMin));
  } catch {
    // Without a store of its own the page judges the clock anew each time.
  }
}

const clocks: Readonly<Record<StoreName, Signal<number | null>>> = {
  mine: signal(kept('mine')),
  invented: signal(kept('invented')),
};

/** Minutes east of UTC; null before a photograph with an offset was seen. */
export const placeClock = (store: StoreName): Signal<number | null> => clocks[store];

/** Takes the offset from the newest frame that has one. */
export function readPlaceClock(store: StoreName, frames: readonly LibraryFrame[]): void {
  for (const { takenAt } of frames.toReversed()) {
    const offset = takenAt === null ? null : writtenOffsetMin(takenAt);
    if (offset === null) continue;
    clocks[store].value = offset;
    keep(store, offset);
    return;
  }
}
