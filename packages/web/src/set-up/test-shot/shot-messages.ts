/** What the page and the worker that measures a test shot say to each other. */
import type { Clipping, FrameBox, LessExposure, MeasuredBlur, SubjectRegion } from '@tepal/imaging';

/** Fractions of width and height from the top left, after the picture was turned upright. */
export interface ShotPoint {
  readonly x: number;
  readonly y: number;
}

/** Takes a picture in, or measures the one that was taken in at another point. */
export interface ShotAsk {
  /** Null goes on with the picture that is there. */
  readonly file: Blob | null;
  /** Null lets the sharpest region say it. */
  readonly point: ShotPoint | null;
  /** The delivery that it is judged for [mm]. */
  readonly delivery: {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly viewingDistanceMm: number;
  };
}

/** A bright or burnt spot, the strongest pull first. */
export interface ShotSpot {
  readonly box: FrameBox;
  readonly burntShare: number;
}

export interface ShotMeasures {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly point: ShotPoint;
  readonly pointGuessed: boolean;
  readonly blur: MeasuredBlur;
  readonly limitPx: number;
  readonly clipped: Clipping;
  readonly less: { readonly red: LessExposure; readonly green: LessExposure; readonly blue: LessExposure };
  readonly evennessStops: number;
  /** Null where sharpness does not part the subject from what is behind. */
  readonly region: SubjectRegion | null;
  readonly distractions: readonly ShotSpot[];
  readonly burnt: readonly ShotSpot[];
}

export type ShotAnswer =
  { readonly ok: true; readonly measures: ShotMeasures } | { readonly ok: false; readonly message: string };
