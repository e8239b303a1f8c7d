/** What the desk and the pages say to each other about keeping and learning. */

/** Measured frames that are evidence now, and how many of them are new. */
export interface EvidenceGathered {
  readonly frames: number;
  readonly fresh: number;
}

/** A backup that was put back: choices that filled gaps, and those left since there were some already. */
export interface PutBack {
  /** ISO 8601. */
  readonly madeAt: string;
  readonly putBack: number;
  readonly kept: number;
}

/** The library against the disk. */
export interface LibraryChecked {
  readonly frames: number;
  readonly missing: readonly string[];
  readonly changed: readonly string[];
  readonly orphaned: readonly string[];
}
