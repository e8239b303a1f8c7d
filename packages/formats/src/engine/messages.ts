/**
 * What the desk's engine and the pages say to each other. Plain JSON; the contract's documents travel inside
 * unchanged. Every path of the engine stands in `engine-paths.ts`, every call in `engine-client.ts`.
 */
import type { OutingSetUp, ShortListedFrame } from './frame-messages.ts';
import type { DeliverDocument, MeasuredFrame, MeasuredSeries, WhenDocument } from '../documents/index.ts';

/** The photographer's own store, or the invented outing, which can neither sync nor export. */
export type StoreName = 'mine' | 'invented';

/** A photographer's decision on a frame. `null` takes it back. */
export type Decision = 'keep' | 'maybe' | 'out';

/** What the first screen needs to know. */
export interface EngineState {
  readonly version: string;
  readonly stores: readonly StoreState[];
}

export interface StoreState {
  readonly store: StoreName;
  /** The folder of photographs last opened, absolute; null before the first. */
  readonly folder: string | null;
  readonly frameCount: number;
  /** The measuring under way in this store, if any. */
  readonly jobId: string | null;
}

/** One folder of the computer, as the folder chooser shows it. */
export interface FolderListing {
  readonly path: string;
  readonly parent: string | null;
  readonly folders: readonly { readonly name: string; readonly path: string }[];
  /** Photographs directly in this folder, and in it and the folders below (up to a stated depth). */
  readonly photographsHere: number;
  readonly photographsBelow: number;
  /** Where photographs usually are: the home folder, Pictures, mounted cards. */
  readonly places: readonly { readonly name: string; readonly path: string }[];
}

export type JobKind = 'measure' | 'blend' | 'deliver' | 'finish' | 'candidates' | 'entry' | 'contactSheet';
export type JobState = 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';

/** Long work, watched while it runs. */
export interface Job {
  readonly id: string;
  readonly kind: JobKind;
  readonly state: JobState;
  readonly done: number;
  readonly total: number;
  /** What is being done, in a sentence. */
  readonly saying: string;
  readonly secondsLeft: number | null;
  /** Inputs that failed, each with its reason; the rest went on. */
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
  /** For blend and deliver: the picture that came of it. */
  readonly pictureId: string | null;
  readonly deliver: DeliverDocument | null;
  /** Why it failed, in a sentence. */
  readonly fault: string | null;
}

/** A frame of the library: what was measured, what it is worth, what was decided. */
export type LibraryFrame = MeasuredFrame & {
  readonly id: string;
  /** "0.9 px, plant moved" */
  readonly words: string;
  /** The largest delivery it is sharp enough for: 'A3', 'A4', 'projection', or null for none. */
  readonly largestDelivery: string | null;
  readonly decision: Decision | null;
};

export type LibrarySeries = Omit<MeasuredSeries, 'files' | 'best'> & {
  /** The photographer's name for it, or one made from its times. */
  readonly name: string;
  /** Whether the photographer gave the name, not the times. */
  readonly named: boolean;
  /** What of its subject it shows; null where that was not said. */
  readonly shows: string | null;
  /** The views by which its subject could be named that no series of that name shows; none before it is named. */
  readonly lacks: readonly string[];
  readonly frameIds: readonly string[];
  readonly bestId: string;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  /** One sentence on the series: complete as a focus series or not, and why the rest fell behind. */
  readonly saying: string;
};

/** Everything that the Frames page draws. */
export interface FramesAnswer {
  /** The folder that is open, absolute; null before the first. */
  readonly folder: string | null;
  /** Every folder that was measured, the newest measuring first. */
  readonly folders: readonly {
    readonly path: string;
    readonly measuredAt: string;
    readonly frameCount: number;
  }[];
  /** Whether the folder cannot be found any more: what was measured is still here, the pictures are not. */
  readonly gone: boolean;
  readonly limitPx: number;
  readonly outing: OutingSetUp;
  /** Few frames, unlike one another, that are worth looking at first. */
  readonly shortList: readonly ShortListedFrame[];
  /** The outing in plain sentences, the first being the answer. */
  readonly verdict: readonly string[];
  readonly series: readonly LibrarySeries[];
  readonly frames: readonly LibraryFrame[];
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
}

/** What writing the decisions into sidecars does, or did, frame by frame. */
export interface RatingPlan {
  /** The rating that stands for each decision. */
  readonly ratings: Readonly<Record<Decision, number>>;
  readonly rows: readonly RatingPlanRow[];
}

export interface RatingPlanRow {
  readonly frameId: string;
  readonly file: string;
  /** The sidecar's file name. */
  readonly sidecar: string;
  readonly decision: Decision | null;
  readonly step:
    | { readonly kind: 'write'; readonly rating: number }
    | { readonly kind: 'remove' }
    | { readonly kind: 'nothing' }
    | { readonly kind: 'otherRating'; readonly there: number; readonly wanted: number };
  readonly written: boolean;
  /** Why this one could not be read or written. */
  readonly fault: string | null;
}

/** Outs moved to the folder beside, or brought back. */
export interface MovedOuts {
  /** The folder beside, absolute. */
  readonly beside: string;
  readonly moved: readonly { readonly file: string; readonly files: number }[];
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
}

/** Days for one site: the when document of every site of the notebook that has a forecast. */
export interface DaysAnswer {
  readonly days: readonly {
    readonly siteId: string;
    readonly siteName: string;
    readonly when: WhenDocument;
  }[];
  readonly faults: readonly string[];
}

/** A finished or blended picture kept beside the library. */
export interface Picture {
  readonly id: string;
  readonly title: string;
  readonly kind: 'frame' | 'blend';
  readonly frameIds: readonly string[];
  readonly widthPx: number;
  readonly heightPx: number;
  readonly madeAt: string;
  /** For a blend: places where no frame is sharp, px. */
  readonly gaps: readonly {
    readonly x: number;
    readonly y: number;
    readonly widthPx: number;
    readonly heightPx: number;
  }[];
  /** What was done, as a plain list that goes with the picture. */
  readonly done: readonly string[];
}

export interface DeliverRequest {
  readonly pictureId?: string;
  readonly frameId?: string;
  readonly as: 'print' | 'screen' | 'archive';
  readonly title?: string;
  readonly caption?: string;
  readonly creator?: string;
  readonly rights?: string;
  readonly keywords?: readonly string[];
  readonly scientificName?: string;
  /** Longest sides of a screen picture, px. */
  readonly boxPx?: { readonly width: number; readonly height: number };
  /** Size of a print, mm. */
  readonly sizeMm?: { readonly width: number; readonly height: number };
  readonly limitKb?: number;
  /** From where a print is looked at, mm. */
  readonly viewingDistanceMm?: number;
  /** Name of a printer's profile that was given to the desk. */
  readonly printerProfile?: string;
  readonly paper?: 'glossyPaper' | 'mattPaper';
  /** A kept set of rules that the picture has to meet. */
  readonly rulesId?: string;
  /** Whether the steps that are kept beside the picture are done on the way; they are unless told otherwise. */
  readonly withSteps?: boolean;
}

export interface RecordsAnswer {
  readonly records: readonly RecordRow[];
}

/** A record as the Records page shows it; the place in it is already released for the photographer's own eyes. */
export interface RecordRow {
  readonly id: string;
  readonly scientificName: string;
  readonly commonName: string | null;
  readonly eventDate: string;
  readonly siteName: string | null;
  readonly count: number | null;
  readonly remarks: string | null;
  readonly frameIds: readonly string[];
  /** What leaves the house for the public, in words: "0.01° cell, ± 660 m" or "withheld". */
  readonly leaves: string;
}

/** A fault as the engine answers it: a sentence, with the HTTP status that carried it. */
export interface EngineFault {
  readonly status: number;
  readonly message: string;
}

export type EngineAnswer<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: EngineFault };
