/** The engine's calls for parting and joining series, the outing's set-up, and a frame looked at; a part of its client. */
import type { FrameQuestions, OutingSetUp, SeriesNaming, SharpTiles } from './frame-messages.ts';
import type { EngineAnswer, FramesAnswer, Job, LibrarySeries, StoreName } from './messages.ts';

const seg = encodeURIComponent;

export const framePaths = {
  /** POST {frameId}: Job; the series ends before that frame, which begins one of its own */
  part: (store: StoreName, seriesId: string) => `/api/${store}/series/${seg(seriesId)}/part`,
  /** POST {otherId}: Job; both are one series from now on */
  join: (store: StoreName, seriesId: string) => `/api/${store}/series/${seg(seriesId)}/join`,
  /** PUT {name, shows}: LibrarySeries */
  naming: (store: StoreName, seriesId: string) => `/api/${store}/series/${seg(seriesId)}/naming`,
  /** PUT OutingSetUp: FramesAnswer of the open folder */
  outing: (store: StoreName) => `/api/${store}/outing`,
  /** GET: FrameQuestions */
  questions: (store: StoreName, frameId: string) => `/api/${store}/frames/${seg(frameId)}/questions`,
  /** GET: SharpTiles */
  sharp: (store: StoreName, frameId: string) => `/api/${store}/frames/${seg(frameId)}/sharp`,
} as const;

export interface FrameCalls {
  partSeries(seriesId: string, frameId: string): Promise<EngineAnswer<Job>>;
  joinSeries(seriesId: string, otherId: string): Promise<EngineAnswer<Job>>;
  nameAndShow(seriesId: string, naming: SeriesNaming): Promise<EngineAnswer<LibrarySeries>>;
  setOuting(setUp: OutingSetUp): Promise<EngineAnswer<FramesAnswer>>;
  questions(frameId: string): Promise<EngineAnswer<FrameQuestions>>;
  sharpTiles(frameId: string): Promise<EngineAnswer<SharpTiles>>;
}

/** Asks by path, with a method and a body where there is one. */
type AskJson = <T>(path: string, method?: string, body?: unknown) => Promise<EngineAnswer<T>>;

export function frameCalls(ask: AskJson, store: StoreName): FrameCalls {
  const at = framePaths;
  return {
    partSeries: (id, frameId) => ask(at.part(store, id), 'POST', { frameId }),
    joinSeries: (id, otherId) => ask(at.join(store, id), 'POST', { otherId }),
    nameAndShow: (id, naming) => ask(at.naming(store, id), 'PUT', naming),
    setOuting: (setUp) => ask(at.outing(store), 'PUT', setUp),
    questions: (id) => ask(at.questions(store, id)),
    sharpTiles: (id) => ask(at.sharp(store, id)),
  };
}
