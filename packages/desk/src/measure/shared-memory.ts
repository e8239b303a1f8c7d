/**
 * The memory for pictures, shared out among the threads of a pool: a number in shared memory, and beside it what each
 * thread holds, so that the share of one that dies can be given back.
 */
import { PICTURE_MEMORY_BYTES, type PictureMemory } from '../decode/room.ts';

const UNIT = 2 ** 20;
const FREE = 0;
/** A thread that waits looks again after so long, should it have missed a call [ms]. */
const LOOK_AGAIN_MS = 1000;

/** @param threads the most that will ever hold a share at the same time */
export function newSharedMemory(threads: number): SharedArrayBuffer {
  const shared = new SharedArrayBuffer(4 * (threads + 1));
  new Int32Array(shared)[FREE] = Math.floor(PICTURE_MEMORY_BYTES / UNIT);
  return shared;
}

/** The memory as one thread draws on it; it blocks that thread, never the one of the engine. */
export function openSharedMemory(shared: SharedArrayBuffer, thread: number): PictureMemory {
  const counts = new Int32Array(shared);
  let heldToTheEnd = false;
  return {
    totalBytes: PICTURE_MEMORY_BYTES,
    async hold(bytes, work, untilEnd = false) {
      if (heldToTheEnd) return work();
      const units = Math.min(Math.ceil(bytes / UNIT), Math.floor(PICTURE_MEMORY_BYTES / UNIT));
      for (;;) {
        const free = Atomics.load(counts, FREE);
        if (free >= units && Atomics.compareExchange(counts, FREE, free, free - units) === free) break;
        if (free < units) Atomics.wait(counts, FREE, free, LOOK_AGAIN_MS);
      }
      Atomics.store(counts, thread + 1, units);
      heldToTheEnd = untilEnd;
      try {
        return await work();
      } finally {
        if (!untilEnd) giveBack(shared, thread);
      }
    },
  };
}

/** Frees what a thread holds: by itself when it is done, by the pool when the thread has ended. */
export function giveBack(shared: SharedArrayBuffer, thread: number): void {
  const counts = new Int32Array(shared);
  const units = Atomics.exchange(counts, thread + 1, 0);
  if (units === 0) return;
  Atomics.add(counts, FREE, units);
  Atomics.notify(counts, FREE);
}
