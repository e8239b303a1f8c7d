/** What the desk's engine and the pages say to each other about finishing, blending again, rules and entries. */
import type { RuleSetDocument } from '../documents/finishing/rule-set.ts';
import type { FinishStepsDocument } from '../documents/finishing/finish-steps.ts';

/** A picture of the library, or one of its frames. */
export type PictureSource =
  | { readonly pictureId: string; readonly frameId?: never }
  | { readonly frameId: string; readonly pictureId?: never };

/** The steps of a picture as they are kept in a file beside it, with all that was taken back and can come again. */
export interface KeptSteps {
  readonly steps: FinishStepsDocument;
  /** What stood before each change, the oldest first; without limit. */
  readonly before: readonly FinishStepsDocument[];
  /** What was undone, the last undone at the end. */
  readonly after: readonly FinishStepsDocument[];
  /** Where the file lies, and what had to be brought up to date in it. */
  readonly file: string;
  readonly warnings: readonly string[];
}

/** "This place from that frame": a disc of the blended picture [px]. */
export interface PlaceChoice {
  readonly frameId: string;
  readonly x: number;
  readonly y: number;
  readonly radiusPx: number;
}

/** How a blend came about, and what may be chosen in it. */
export interface BlendState {
  readonly referenceId: string;
  readonly frames: readonly {
    readonly frameId: string;
    readonly file: string;
    readonly used: boolean;
    readonly why: string | null;
  }[];
  /** What would make the better picture; null where the blend is one. */
  readonly fallback: {
    readonly use: 'theseFrames' | 'bestSingleFrame';
    readonly frameIds: readonly string[];
    readonly why: string;
  } | null;
  readonly choices: readonly PlaceChoice[];
  /** Whether depth and source maps lie beside it. */
  readonly maps: boolean;
}

/** What the frames show at a touched place, the sharpest first; each crop has an address by its number. */
export interface CandidatesAnswer {
  readonly radiusPx: number;
  readonly candidates: readonly {
    readonly frameId: string;
    readonly file: string;
    readonly x: number;
    readonly y: number;
    readonly widthPx: number;
    readonly heightPx: number;
  }[];
  readonly unread: readonly { readonly file: string; readonly reason: string }[];
}

/** A set of rules as it is kept: a file that is edited and shared. */
export interface KeptRules {
  readonly id: string;
  readonly rules: RuleSetDocument;
}

/** Pictures on their way to an exhibition or a club, in their order. */
export interface EntryDraft {
  readonly id: string;
  readonly name: string;
  readonly rulesId: string | null;
  readonly deadline: string | null;
  readonly creator: string | null;
  readonly pictures: readonly (PictureSource & { readonly title: string })[];
}

/** An entry as it was made: which files, under which names, and what was refused. */
export interface EnteredAnswer {
  readonly folder: string;
  readonly deadline: string | null;
  readonly pictures: readonly {
    readonly title: string;
    readonly output: string | null;
    readonly proof: string | null;
    readonly done: string | null;
    readonly warnings: readonly string[];
    readonly why: string | null;
  }[];
}
