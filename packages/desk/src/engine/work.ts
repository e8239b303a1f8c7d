/** The long work of the engine on frames: measuring, each as a job with threads of its own. */
import { measureFolder } from '../measure/measure-folder.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import type { JobWork } from './jobs.ts';
import type { Store } from './stores.ts';

/** Runs with a pool that ends with the work, and at once when the job is cancelled. */
export async function withPool<T>(
  signal: AbortSignal,
  threads: number | null,
  use: (pool: Pool) => Promise<T>,
): Promise<T> {
  const pool = openPool(threads === null ? {} : { threads });
  const stop = () => void pool.close();
  signal.addEventListener('abort', stop, { once: true });
  try {
    return await use(pool);
  } finally {
    signal.removeEventListener('abort', stop);
    await pool.close();
  }
}

export function measureWork(store: Store, folder: string): JobWork {
  return (signal, tell) =>
    withPool(signal, null, async (pool) => {
      const { library } = store;
      store.open(folder);
      const document = await measureFolder({ folder, library, pool, signal, tell, point: null, map: false });
      const { frames, series, failed } = document;
      return {
        saying: `${frames.length} frames in ${series.length} series${failed.length > 0 ? `, ${failed.length} not read` : ''}.`,
        failed,
      };
    });
}
