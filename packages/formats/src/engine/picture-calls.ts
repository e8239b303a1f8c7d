/** The engine's calls for finishing, blending again, rules and entries; a part of its client. */
import type { RuleSetDocument } from '../documents/finishing/rule-set.ts';
import type { FinishStepsDocument } from '../documents/finishing/finish-steps.ts';
import { picturePaths } from './picture-paths.ts';
import type { EngineAnswer, Job, StoreName } from './messages.ts';
import type {
  BlendState,
  CandidatesAnswer,
  EnteredAnswer,
  EntryDraft,
  KeptRules,
  KeptSteps,
  PictureSource,
  PlaceChoice,
} from './picture-messages.ts';

export interface PictureCalls {
  steps(of: PictureSource): Promise<EngineAnswer<KeptSteps>>;
  keepSteps(
    of: PictureSource,
    kept: Pick<KeptSteps, 'steps' | 'before' | 'after'>,
  ): Promise<EngineAnswer<KeptSteps>>;
  proxy(of: PictureSource): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>>;
  finish(of: PictureSource, steps: FinishStepsDocument): Promise<EngineAnswer<Job>>;
  blendState(pictureId: string): Promise<EngineAnswer<BlendState>>;
  candidates(
    pictureId: string,
    place: { x: number; y: number; radiusPx: number },
  ): Promise<EngineAnswer<Job>>;
  candidatesFound(jobId: string): Promise<EngineAnswer<CandidatesAnswer>>;
  choosePlaces(pictureId: string, choices: readonly PlaceChoice[]): Promise<EngineAnswer<Job>>;
  rules(): Promise<EngineAnswer<readonly KeptRules[]>>;
  keepRules(id: string, rules: RuleSetDocument): Promise<EngineAnswer<readonly KeptRules[]>>;
  profiles(): Promise<EngineAnswer<readonly string[]>>;
  profile(name: string): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>>;
  keepProfile(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<EngineAnswer<readonly string[]>>;
  entries(): Promise<EngineAnswer<readonly EntryDraft[]>>;
  keepEntry(entry: EntryDraft): Promise<EngineAnswer<readonly EntryDraft[]>>;
  makeEntry(id: string): Promise<EngineAnswer<Job>>;
  entered(jobId: string): Promise<EngineAnswer<EnteredAnswer>>;
  contactSheet(pictures: readonly PictureSource[]): Promise<EngineAnswer<Job>>;
}

/** How the client asks: by path, with a method and a body where there is one. */
export interface Asking {
  json<T>(path: string, method?: string, body?: unknown): Promise<EngineAnswer<T>>;
  bytes(path: string): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>>;
  sendBytes<T>(path: string, body: Uint8Array<ArrayBuffer>): Promise<EngineAnswer<T>>;
}

export function pictureCalls(ask: Asking, store: StoreName): PictureCalls {
  const at = picturePaths;
  return {
    steps: (of) => ask.json(at.steps(store, of)),
    keepSteps: (of, kept) => ask.json(at.steps(store, of), 'PUT', kept),
    proxy: (of) => ask.bytes(at.proxy(store, of)),
    finish: (of, steps) => ask.json(at.finish(store), 'POST', { ...of, steps }),
    blendState: (id) => ask.json(at.blendState(store, id)),
    candidates: (id, place) => ask.json(at.candidates(store, id), 'POST', place),
    candidatesFound: (jobId) => ask.json(at.candidatesFound(store, jobId)),
    choosePlaces: (id, choices) => ask.json(at.choices(store, id), 'PUT', { choices }),
    rules: () => ask.json(at.rules(store)),
    keepRules: (id, rules) => ask.json(at.ruleSet(store, id), 'PUT', { rules }),
    profiles: () => ask.json(at.profiles(store)),
    profile: (name) => ask.bytes(at.profile(store, name)),
    keepProfile: (name, bytes) => ask.sendBytes(at.profile(store, name), bytes),
    entries: () => ask.json(at.entries(store)),
    keepEntry: (entry) => ask.json(at.entry(store, entry.id), 'PUT', entry),
    makeEntry: (id) => ask.json(at.entry(store, id), 'POST', {}),
    entered: (jobId) => ask.json(at.entered(store, jobId)),
    contactSheet: (pictures) => ask.json(at.contactSheet(store), 'POST', { pictures }),
  };
}
