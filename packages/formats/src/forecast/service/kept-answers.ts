/** What a client keeps between runs: answers as they came, and how long a service asked to be left alone. */

/** An answer as it came, with what the next request for it needs. */
export interface KeptAnswer {
  readonly bytes: Uint8Array;
  /** When these bytes came, Unix time [ms]. */
  readonly fetchedAtMs: number;
  /** When the service last said that they still hold, Unix time [ms]. */
  readonly checkedAtMs: number;
  /** Until when the service asks not to be asked again, Unix time [ms]. */
  readonly freshUntilMs: number;
  /** The service's own `Last-Modified` and `ETag`, sent back as they are; null where there was none. */
  readonly lastModified: string | null;
  readonly entityTag: string | null;
}

/** A service that is to be left alone for a while. */
export interface Pause {
  /** Unix time [ms]. */
  readonly untilMs: number;
  /** Refusals one after the other. */
  readonly refusals: number;
  /** Why, as part of a sentence: "asked to wait (429)". */
  readonly why: string;
}

/** Where they are kept: a folder at the desk, the browser's store on a page. Faults of the store count as "nothing". */
export interface ForecastCache {
  answer(url: string): Promise<KeptAnswer | null>;
  keepAnswer(url: string, answer: KeptAnswer): Promise<void>;
  pause(origin: string): Promise<Pause | null>;
  /** null: the service may be asked again. */
  keepPause(origin: string, pause: Pause | null): Promise<void>;
}

/** A store for one run only. */
export function memoryForecastCache(): ForecastCache {
  const answers = new Map<string, KeptAnswer>();
  const pauses = new Map<string, Pause>();
  return {
    answer: async (url) => answers.get(url) ?? null,
    keepAnswer: async (url, answer) => void answers.set(url, answer),
    pause: async (origin) => pauses.get(origin) ?? null,
    keepPause: async (origin, pause) => {
      if (pause === null) pauses.delete(origin);
      else pauses.set(origin, pause);
    },
  };
}
