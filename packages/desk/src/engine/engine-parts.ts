/** What the routes of the engine work with. */
import type { Job, StoreName } from '@tepal/formats';
import type { Viewer } from './crops.ts';
import type { Jobs } from './jobs.ts';
import type { Store } from './stores.ts';

export interface Engine {
  readonly stores: Readonly<Record<StoreName, Store>>;
  readonly jobs: Jobs;
  readonly viewer: Viewer;
  /** The measuring under way in a store; null for none. */
  measuring(store: StoreName): string | null;
  startMeasuring(store: Store, path: string): Job;
}
