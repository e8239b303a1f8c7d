/** Blends a focus series into one picture, frame by frame. */
import { DomainError, requireInteger } from '@tepal/science';
import { checkImage, type Rgb16Image, type Rgb8Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { stillness, toTerms } from '../register/similarity.ts';
import { gridOfTerms } from '../register/displacement.ts';
import type { BlendChoice } from './choices.ts';
import { adviseFallback, type BlendFallback } from './fallback.ts';
import { Fusion } from './fusion.ts';
import { findGaps, type BlendGap } from './gaps.ts';
import type { KnownPlace } from './known-place.ts';
import { SeriesPlaces } from './series-places.ts';
import { workingCopy } from './working-copy.ts';

/** How a frame took part; motion is frame to reference about the frame's centre, null where it has none. */
export interface BlendedFrame {
  readonly index: number;
  readonly used: boolean;
  readonly why: string | null;
  readonly shiftPx: { readonly x: number; readonly y: number } | null;
  readonly rotationDeg: number | null;
  readonly scale: number | null;
  readonly rmsPx: number | null;
  /** Its place, to blend the series again or to look at a part of it; null where it was left out. */
  readonly place: KnownPlace | null;
  /** Its share of the picture's detail [0..1]; 0 until the blend is finished. */
  readonly share: number;
}

/**
 * The blended picture with the geometry of the reference, read a few rows at a time so that it need not lie in memory
 * twice. It stays in the kernel until `dispose`.
 */
export interface Blend {
  readonly width: number;
  readonly height: number;
  readonly gaps: readonly BlendGap[];
  readonly frames: readonly BlendedFrame[];
  /** What would make the better picture, where the series did not become one. */
  readonly fallback: BlendFallback | null;
  /** `count` rows from row `first` on: interleaved RGB, 16 bit, 0..65535 encoded. */
  pictureRows(first: number, count: number): Uint16Array;
  /** Which frame gave most at each pixel (its index, 0..255). */
  sourceRows(first: number, count: number): Uint8Array;
  /** Weighted mean of the frames' indices at each pixel: the order of depth, refined between frames. */
  depthRows(first: number, count: number): Float32Array;
  /** Gives the memory back; after this no row can be read. */
  dispose(): void;
}

/** What a session reports while it works: a step of one frame, and how much of it is done [0..1]. */
export interface BlendProgress {
  readonly step: 'registering' | 'merging' | 'finishing';
  readonly share: number;
}

/** A blend in the making. Frames are read once, when they are added, and not kept. */
export interface BlendSession {
  /**
   * Adds a frame. The first one added is the reference.
   *
   * @param frame encoded RGB, 8 or 16 bit, which may be overwritten afterwards; any size, the reference's as a rule
   * @param index the frame's place in the series, 0..255; what source and depth map hold
   * @param known its place where a blend of the series has found it before, instead of registering
   * @returns how it took part; a frame that cannot be aligned is left out and says why
   * @throws DomainError if the frame is malformed, or the session has finished
   */
  addFrame(frame: Rgb8Image | Rgb16Image, index: number, known?: KnownPlace): BlendedFrame;
  /** Makes the picture. @throws DomainError without a frame, or a second time */
  finish(): Blend;
  /** Gives the memory back without a picture. */
  dispose(): void;
}

/** Registration reads luma of at most this long side, full size up to there. */
const REGISTER_LONG_SIDE = 2048;

/**
 * Opens a blend on a kernel of its own (no other work on it until `finish` or `dispose`).
 *
 * Memory: about 47 bytes a pixel in the kernel, and the frame being added outside it. A process that blends ten frames
 * of 20 megapixels with its maps was measured at 1,236 MiB, one that blends frames of 45 megapixels at 2,348 MiB.
 *
 * @param options.onProgress called between the steps
 * @param options.choices places that come from one frame each
 */
export function createBlendSession(
  kernel: Kernel,
  options: {
    readonly onProgress?: (progress: BlendProgress) => void;
    readonly choices?: readonly BlendChoice[];
  } = {},
): BlendSession {
  const mark = kernel.mark();
  const frames: BlendedFrame[] = [];
  const progress = options.onProgress ?? (() => undefined);
  let ended = false;
  let open: { fusion: Fusion; series: SeriesPlaces } | null = null;

  let disposed = false;
  const giveBack = () => {
    if (!disposed) kernel.release(mark);
    disposed = true;
  };

  const refuseEnded = () => {
    if (ended) throw new DomainError('wrongOrder', 'an open session', 'session', 'a finished one');
  };

  return {
    addFrame(frame, index, known) {
      refuseEnded();
      checkImage('frame', frame, 3, 64);
      requireInteger('index', index, { min: 0, max: 255 });
      progress({ step: 'registering', share: 0 });
      const copy = workingCopy(kernel, frame, REGISTER_LONG_SIDE);
      if (open === null) {
        const fusion = new Fusion(kernel, frame.width, frame.height, options.choices);
        const series = new SeriesPlaces(kernel, frame, copy);
        open = { fusion, series };
        progress({ step: 'merging', share: 0 });
        const terms = toTerms(stillness);
        const grid = gridOfTerms(terms, frame, 32);
        fusion.add(frame, { grid, terms, gains: [1, 1, 1] }, index, true);
        return keep(frames, taken(index, stillness, 0));
      }
      const place = open.series.place(frame, copy, known);
      if (place.why !== null) return keep(frames, leftOut(index, place.why));
      progress({ step: 'merging', share: 0 });
      open.fusion.add(frame, place, index, false);
      return keep(frames, taken(index, place.place, place.rmsPx));
    },

    finish() {
      refuseEnded();
      if (open === null) throw new DomainError('empty', 'at least one frame', 'session', 'none');
      progress({ step: 'finishing', share: 0 });
      const { fusion } = open;
      const { width, height } = fusion;
      const shares = fusion.shares();
      const shared = frames
        .map((frame) => ({ ...frame, share: frame.used ? shares[frame.index]! : 0 }))
        .sort((a, b) => a.index - b.index);
      const gaps = findGaps(fusion.settle(), fusion);
      fusion.collapse();
      ended = true;
      progress({ step: 'finishing', share: 1 });
      const refuseDisposed = () => {
        if (disposed)
          throw new DomainError('wrongOrder', 'a blend not disposed of', 'blend', 'a disposed one');
      };
      return {
        width,
        height,
        gaps,
        frames: shared,
        fallback: adviseFallback(shared, Math.hypot(width, height)),
        pictureRows(first, count) {
          refuseDisposed();
          return fusion.pictureRows(first, count);
        },
        sourceRows(first, count) {
          refuseDisposed();
          return fusion.sourceRows(first, count);
        },
        depthRows(first, count) {
          refuseDisposed();
          return fusion.depthRows(first, count);
        },
        dispose: giveBack,
      };
    },

    dispose() {
      ended = true;
      giveBack();
    },
  };
}

function taken(index: number, place: KnownPlace, rmsPx: number): BlendedFrame {
  const { shiftPx, rotationDeg, scale } = place;
  return { index, used: true, why: null, shiftPx, rotationDeg, scale, rmsPx, place, share: 0 };
}

function leftOut(index: number, why: string): BlendedFrame {
  const nothing = { shiftPx: null, rotationDeg: null, scale: null, rmsPx: null, place: null };
  return { index, used: false, why, ...nothing, share: 0 };
}

function keep(frames: BlendedFrame[], frame: BlendedFrame): BlendedFrame {
  frames.push(frame);
  return frame;
}
