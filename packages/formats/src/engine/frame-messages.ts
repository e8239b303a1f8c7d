/** What desk and pages say to each other about an outing's series, its set-up, and one frame looked at closely. */

/** What was the same all through an outing; each null where it was not said. Identifiers of the notebook. */
export interface OutingSetUp {
  readonly siteId: string | null;
  readonly lensId: string | null;
  /** How the camera was held, in the kit's words. */
  readonly support: string | null;
}

/** A frame of the short list, and why it stands there. */
export interface ShortListedFrame {
  readonly frameId: string;
  readonly why: string;
}

/** A part of a frame, as fractions of its width and height from the top left. */
export interface FrameSpot {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What a judge would ask of a frame, each question with its spot; and what less exposure would have kept. */
export interface FrameQuestions {
  readonly questions: readonly { readonly question: string; readonly spot: FrameSpot }[];
  readonly lessExposure: string | null;
}

/** Where a frame is sharp: one letter a tile, row by row, `s` sharp and `-` not. */
export interface SharpTiles {
  readonly columns: number;
  readonly rows: number;
  /** Side of a tile [px of the frame]. */
  readonly tilePx: number;
  readonly tiles: string;
}

/** A series' name and what of its subject it shows, in the words of the views by which it can be identified. */
export interface SeriesNaming {
  readonly name: string;
  readonly shows: string | null;
}
