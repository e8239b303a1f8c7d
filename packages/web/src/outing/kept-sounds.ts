/** Spoken notes: the sound stays on this device, under the identifier that the outing's notes name. */
import { createStore, del, entries, set, type UseStore } from 'idb-keyval';

/** A spoken note. */
export interface KeptSound {
  readonly id: string;
  readonly outingId: string;
  /** Unix time at which it began [ms]. */
  readonly startedMs: number;
  readonly lengthS: number;
  readonly sound: Blob;
}

let opened: UseStore | null = null;
const store = () => (opened ??= createStore('tepal-sounds', 'sounds'));

/** Keeps a sound. @throws when the browser keeps nothing, as some private windows do */
export const keepSound = (sound: KeptSound): Promise<void> => set(sound.id, sound, store());

export const deleteSound = (id: string): Promise<void> => del(id, store());

/** The sounds of an outing, in order of time; none where the browser keeps nothing. */
export async function soundsOf(outingId: string): Promise<readonly KeptSound[]> {
  try {
    const all = await entries<string, KeptSound>(store());
    return all
      .map(([, sound]) => sound)
      .filter((sound) => sound.outingId === outingId)
      .sort((a, b) => a.startedMs - b.startedMs);
  } catch {
    return [];
  }
}
