/** What this device keeps by itself: the notebook's bytes and what else must be there without a network. */
import { signal } from '@preact/signals';
import { createStore, get, set, type UseStore } from 'idb-keyval';

export type KeptName = 'notebook' | 'desk' | 'exchange' | 'forecasting' | 'checklist';

let opened: UseStore | null = null;
const store = () => (opened ??= createStore('tepal', 'kept'));

/**
 * Reads what was kept under a name.
 *
 * @returns undefined where nothing was kept
 * @throws when the browser keeps nothing, as some private windows do
 */
export function kept<T>(name: KeptName): Promise<T | undefined> {
  return get<T>(name, store());
}

/** Keeps a value; done once it is on the device. */
export function keep(name: KeptName, value: unknown): Promise<void> {
  return set(name, value, store());
}

/**
 * What the browser promises for what is kept: `lasting` until the photographer deletes it, `passing` when the browser
 * may clear it (a full disk, or a site not visited for a week), `unknown` where it does not say.
 */
export const keeping = signal<'lasting' | 'passing' | 'unknown'>('unknown');

/** Asks the browser to keep for good, and notes what it answers. */
export async function askToKeep(): Promise<void> {
  const storage: StorageManager | undefined = navigator.storage;
  if (storage === undefined || typeof storage.persist !== 'function') return;
  try {
    keeping.value = (await storage.persisted()) || (await storage.persist()) ? 'lasting' : 'passing';
  } catch {
    keeping.value = 'unknown';
  }
}
