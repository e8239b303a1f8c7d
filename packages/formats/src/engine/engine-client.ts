/**
 * The client of the desk's engine: given a `fetch`, it speaks the paths of `engine-paths.ts`. The network's faults
 * come back as values with a sentence, never as exceptions.
 */
import { enginePaths } from './engine-paths.ts';
import { frameCalls, type FrameCalls } from './frame-calls.ts';
import type { ForecastSettingsAnswer, PackAnswer, SiteForecastAnswer } from './forecast-messages.ts';
import { pictureCalls, type PictureCalls } from './picture-calls.ts';
import type { EvidenceGathered, LibraryChecked, PutBack } from './keeping-messages.ts';
import type { MeetingCode, MeetingState } from './meeting-messages.ts';
import type {
  DaysAnswer,
  Decision,
  DeliverRequest,
  EngineAnswer,
  EngineState,
  FolderListing,
  FramesAnswer,
  Job,
  LibraryFrame,
  LibrarySeries,
  MovedOuts,
  Picture,
  RatingPlan,
  RecordsAnswer,
  StoreName,
} from './messages.ts';

export type EngineFetch = (
  url: string,
  init?: { method?: string; headers?: Record<string, string>; body?: string | Uint8Array<ArrayBuffer> },
) => Promise<{
  readonly ok: boolean;
  readonly status: number;
  json(): Promise<unknown>;
  arrayBuffer(): Promise<ArrayBuffer>;
}>;

export interface EngineClient extends PictureCalls, FrameCalls {
  state(): Promise<EngineAnswer<EngineState>>;
  folders(path?: string): Promise<EngineAnswer<FolderListing>>;
  measure(path: string): Promise<EngineAnswer<Job>>;
  job(id: string): Promise<EngineAnswer<Job>>;
  cancel(id: string): Promise<EngineAnswer<Job>>;
  frames(): Promise<EngineAnswer<FramesAnswer>>;
  openFolder(path: string): Promise<EngineAnswer<FramesAnswer>>;
  decide(frameId: string, decision: Decision | null): Promise<EngineAnswer<LibraryFrame>>;
  ratingPlan(): Promise<EngineAnswer<RatingPlan>>;
  writeRatings(request: {
    changeOthers: boolean;
    ratings?: RatingPlan['ratings'];
  }): Promise<EngineAnswer<RatingPlan>>;
  moveOuts(away: boolean): Promise<EngineAnswer<MovedOuts>>;
  markPoint(seriesId: string, point: { frameId: string; x: number; y: number }): Promise<EngineAnswer<Job>>;
  nameSeries(seriesId: string, name: string): Promise<EngineAnswer<LibrarySeries>>;
  blend(request: {
    frameIds: readonly string[];
    referenceId?: string;
    title?: string;
  }): Promise<EngineAnswer<Job>>;
  pictures(): Promise<EngineAnswer<readonly Picture[]>>;
  deliver(request: DeliverRequest): Promise<EngineAnswer<Job>>;
  days(): Promise<EngineAnswer<DaysAnswer>>;
  giveForecast(siteId: string, bytes: Uint8Array<ArrayBuffer>): Promise<EngineAnswer<DaysAnswer>>;
  siteForecast(siteId: string): Promise<EngineAnswer<SiteForecastAnswer>>;
  fetchForecasts(siteIds?: readonly string[]): Promise<EngineAnswer<PackAnswer>>;
  forecastSettings(): Promise<EngineAnswer<ForecastSettingsAnswer>>;
  setForecastSettings(settings: {
    source?: string;
    contact?: string;
  }): Promise<EngineAnswer<ForecastSettingsAnswer>>;
  notebook(): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>>;
  mergeNotebook(bytes: Uint8Array<ArrayBuffer>): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>>;
  meeting(): Promise<EngineAnswer<MeetingState>>;
  listenAtHome(listening: boolean): Promise<EngineAnswer<MeetingState>>;
  meetingCode(): Promise<EngineAnswer<MeetingCode>>;
  revokeDevice(id: string): Promise<EngineAnswer<MeetingState>>;
  records(): Promise<EngineAnswer<RecordsAnswer>>;
  gatherEvidence(): Promise<EngineAnswer<EvidenceGathered>>;
  backup(): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>>;
  putBack(backup: Uint8Array<ArrayBuffer>): Promise<EngineAnswer<PutBack>>;
  checkLibrary(): Promise<EngineAnswer<LibraryChecked>>;
}

/**
 * @param engine.fetch the platform's fetch, or one for tests
 * @param engine.baseUrl origin of the engine without a trailing slash; '' for the page's own
 * @param engine.store which of the two stores is spoken to
 */
export function createEngineClient(engine: {
  fetch: EngineFetch;
  baseUrl: string;
  store: StoreName;
}): EngineClient {
  const { fetch, baseUrl, store } = engine;
  // A header that no foreign page can send without being asked first; the engine refuses writes without it.
  const ours = { 'x-tepal': '1' };

  async function ask<T>(
    path: string,
    read: (response: Awaited<ReturnType<EngineFetch>>) => Promise<T>,
    init: Parameters<EngineFetch>[1] = {},
  ): Promise<EngineAnswer<T>> {
    try {
      const response = await fetch(baseUrl + path, { ...init, headers: { ...ours, ...init.headers } });
      if (response.ok) return { ok: true, value: await read(response) };
      return { ok: false, fault: { status: response.status, message: await faultSentence(response) } };
    } catch {
      const message =
        'The engine on this computer does not answer. Start it again with "npm start", then reload.';
      return { ok: false, fault: { status: 0, message } };
    }
  }

  // The engine and the pages are built from one source; its JSON is read as what `messages.ts` says it is.
  const json = async <T>(response: Awaited<ReturnType<EngineFetch>>): Promise<T> =>
    (await response.json()) as T;
  const bytes = async (response: Awaited<ReturnType<EngineFetch>>) =>
    new Uint8Array(await response.arrayBuffer());
  const send = (method: string, body: unknown) => ({
    method,
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  const sendBytes = (method: string, body: Uint8Array<ArrayBuffer>) => ({
    method,
    headers: { 'content-type': 'application/octet-stream' },
    body,
  });

  const asking = {
    json: <T>(path: string, method?: string, body?: unknown) =>
      ask(path, json<T>, method === undefined ? {} : send(method, body)),
    bytes: (path: string) => ask(path, bytes),
    sendBytes: <T>(path: string, body: Uint8Array<ArrayBuffer>) => ask(path, json<T>, sendBytes('PUT', body)),
  };
  return {
    ...pictureCalls(asking, store),
    ...frameCalls(asking.json, store),
    state: () => ask(enginePaths.state(), json<EngineState>),
    folders: (path) => ask(enginePaths.folders(path), json<FolderListing>),
    measure: (path) => ask(enginePaths.measure(store), json<Job>, send('POST', { path })),
    job: (id) => ask(enginePaths.job(id), json<Job>),
    cancel: (id) => ask(enginePaths.job(id), json<Job>, { method: 'DELETE' }),
    frames: () => ask(enginePaths.frames(store), json<FramesAnswer>),
    openFolder: (path) => ask(enginePaths.folder(store), json<FramesAnswer>, send('PUT', { path })),
    decide: (id, decision) =>
      ask(enginePaths.decision(store, id), json<LibraryFrame>, send('PUT', { decision })),
    ratingPlan: () => ask(enginePaths.ratings(store), json<RatingPlan>),
    writeRatings: (request) => ask(enginePaths.ratings(store), json<RatingPlan>, send('POST', request)),
    moveOuts: (away) => ask(enginePaths.outs(store), json<MovedOuts>, send('POST', { away })),
    markPoint: (id, point) => ask(enginePaths.point(store, id), json<Job>, send('PUT', point)),
    nameSeries: (id, name) =>
      ask(enginePaths.seriesName(store, id), json<LibrarySeries>, send('PUT', { name })),
    blend: (request) => ask(enginePaths.blend(store), json<Job>, send('POST', request)),
    pictures: () => ask(enginePaths.pictures(store), json<readonly Picture[]>),
    deliver: (request) => ask(enginePaths.deliver(store), json<Job>, send('POST', request)),
    days: () => ask(enginePaths.days(store), json<DaysAnswer>),
    giveForecast: (id, body) =>
      ask(enginePaths.forecast(store, id), json<DaysAnswer>, sendBytes('PUT', body)),
    siteForecast: (id) => ask(enginePaths.forecast(store, id), json<SiteForecastAnswer>),
    fetchForecasts: (siteIds) =>
      ask(enginePaths.forecasts(store), json<PackAnswer>, send('POST', { siteIds })),
    forecastSettings: () => ask(enginePaths.forecastSettings(), json<ForecastSettingsAnswer>),
    setForecastSettings: (settings) =>
      ask(enginePaths.forecastSettings(), json<ForecastSettingsAnswer>, send('PUT', settings)),
    notebook: () => ask(enginePaths.notebook(store), bytes),
    mergeNotebook: (body) => ask(enginePaths.notebook(store), bytes, sendBytes('POST', body)),
    meeting: () => ask(enginePaths.meeting(), json<MeetingState>),
    listenAtHome: (listening) => ask(enginePaths.meeting(), json<MeetingState>, send('PUT', { listening })),
    meetingCode: () => ask(enginePaths.meetingCode(), json<MeetingCode>, { method: 'POST' }),
    revokeDevice: (id) => ask(enginePaths.metDevice(id), json<MeetingState>, { method: 'DELETE' }),
    records: () => ask(enginePaths.records(store), json<RecordsAnswer>),
    gatherEvidence: () => ask(enginePaths.evidence(), json<EvidenceGathered>, { method: 'POST' }),
    backup: () => ask(enginePaths.backupFile(), bytes),
    putBack: (backup) => ask(enginePaths.backup(), json<PutBack>, sendBytes('POST', backup)),
    checkLibrary: () => ask(enginePaths.libraryCheck(), json<LibraryChecked>),
  };
}

async function faultSentence(response: {
  json(): Promise<unknown>;
  readonly status: number;
}): Promise<string> {
  try {
    const body = await response.json();
    if (typeof body === 'object' && body !== null && 'message' in body && typeof body.message === 'string') {
      return body.message;
    }
  } catch {
    // An answer that is not JSON has no sentence of its own; the status says what there is to say.
  }
  return `The engine answered with status ${response.status} and no reason.`;
}
