/** Blends a focus series into one picture, frame by frame. */
import { DomainError, requireInteger } from '@tepal/science';
import { checkImage, type FloatImage, type Rgb16Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { registerSimilarity } from '../register/register-similarity.ts';
import {
  invertTerms,
  scaleSimilarity,
  stillness,
  toTerms,
  type Similarity,
  type SimilarityTerms,
} from '../register/similarity.ts';
import { Fusion } from './fusion.ts';
import { findGaps, type BlendGap } from './gaps.ts';
import { channelGains, workingCopy, type WorkingCopy } from './working-copy.ts';

/** How a frame took part; motion is frame to reference about the frame's centre, null where it has none. */
export interface BlendedFrame {
  readonly index: number;
  readonly used: boolean;
  readonly why: string | null;
  readonly shiftPx: { readonly x: number; readonly y: number } | null;
  readonly rotationDeg: number | null;
  readonly scale: number | null;
  readonly rmsPx: number | null;
}

/** The blended picture with the geometry of the reference. */
export interface Blend {
  readonly picture: Rgb16Image;
  /** Which frame gave most at each pixel (its index, 0..255). */
  readonly source: { readonly width: number; readonly height: number; readonly data: Uint8Array };
  /** Weighted mean of the frames' indices at each pixel: the order of depth, refined between frames. */
  readonly depth: FloatImage;
  readonly gaps: readonly BlendGap[];
  readonly frames: readonly BlendedFrame[];
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
   * @param frame encoded RGB, 16 bit; any size, the reference's as a rule
   * @param index the frame's place in the series, 0..255; what source and depth map hold
   * @param motion frame to reference where it is known, instead of registering
   * @returns how it took part; a frame that cannot be aligned is left out and says why
   * @throws DomainError if the frame is malformed, or the session has finished
   */
  addFrame(frame: Rgb16Image, index: number, motion?: Similarity): BlendedFrame;
  /** Makes the picture and gives the memory back. @throws DomainError without a frame, or a second time */
  finish(): Blend;
  /** Gives the memory back without a picture. */
  dispose(): void;
}

/** Registration reads luma of at most this long side, full size up to there. */
const REGISTER_LONG_SIDE = 2048;
const LEAST_CORRELATION = 0.6;
const MOST_REMAINING_SHARE = 0.004;

/**
 * Opens a blend on a kernel of its own (no other work on it until `finish` or `dispose`).
 *
 * Memory: about 48 bytes a pixel in the kernel beside the frame being added; a process that blends 20 megapixels was
 * measured at 1,382 MiB, frame and result included.
 *
 * @param options.onProgress called between the steps
 */
export function createBlendSession(
  kernel: Kernel,
  options: { readonly onProgress?: (progress: BlendProgress) => void } = {},
): BlendSession {
  const mark = kernel.mark();
  const frames: BlendedFrame[] = [];
  const progress = options.onProgress ?? (() => undefined);
  let ended = false;
  let open: { fusion: Fusion; copy: WorkingCopy; thumbnail: Rgb16Image; thumbFactor: number } | null = null;
  let lastMotion: Similarity = stillness;

  const refuseEnded = () => {
    if (ended) throw new DomainError('wrongOrder', 'an open session', 'session', 'a finished one');
  };

  return {
    addFrame(frame, index, motion) {
      refuseEnded();
      checkImage('frame', frame, 3, 64);
      requireInteger('index', index, { min: 0, max: 255 });
      progress({ step: 'registering', share: 0 });
      const copy = workingCopy(frame, REGISTER_LONG_SIDE);
      if (open === null) {
        const fusion = new Fusion(kernel, frame.width, frame.height);
        const thumbFactor = 4;
        open = { fusion, copy, thumbnail: thin(frame, thumbFactor), thumbFactor };
        progress({ step: 'merging', share: 0 });
        fusion.add(frame, { a: 1, b: 0, x: 0, y: 0 }, [1, 1, 1], index, true);
        return keep(frames, taken(index, stillness, 0));
      }
      let placed: Similarity;
      let rmsPx = 0;
      if (motion === undefined) {
        const found = align(kernel, open.copy, copy, lastMotion);
        rmsPx = found.rmsPx;
        placed = found.motion;
        if (found.why !== null) return keep(frames, leftOut(index, found.why));
      } else {
        placed = motion;
      }
      lastMotion = placed;
      const thumb = thin(frame, open.thumbFactor);
      const gains = channelGains(open.thumbnail, thumb, scaleSimilarity(placed, 1 / open.thumbFactor));
      progress({ step: 'merging', share: 0 });
      open.fusion.add(frame, fromTopLeft(placed, open.fusion, frame), gains, index, false);
      return keep(frames, taken(index, placed, rmsPx));
    },

    finish() {
      refuseEnded();
      if (open === null) throw new DomainError('empty', 'at least one frame', 'session', 'none');
      progress({ step: 'finishing', share: 0 });
      const { fusion } = open;
      const { width, height } = fusion;
      const gaps = findGaps(fusion.settle(), fusion);
      const data = fusion.collapse();
      const { source, depth } = fusion.maps();
      ended = true;
      kernel.release(mark);
      progress({ step: 'finishing', share: 1 });
      return {
        picture: { width, height, data },
        source: { width, height, data: source },
        depth: { width, height, data: depth },
        gaps,
        frames: [...frames].sort((a, b) => a.index - b.index),
      };
    },

    dispose() {
      if (!ended) kernel.release(mark);
      ended = true;
    },
  };
}

function align(
  kernel: Kernel,
  reference: WorkingCopy,
  copy: WorkingCopy,
  lastMotion: Similarity,
): { readonly motion: Similarity; readonly rmsPx: number; readonly why: string | null } {
  let best = registerSimilarity(kernel, reference.luma, copy.luma);
  if (best.correlation < 0.9) {
    const start = scaleSimilarity(lastMotion, 1 / reference.factor);
    const again = registerSimilarity(kernel, reference.luma, copy.luma, { start });
    if (again.correlation > best.correlation) best = again;
  }
  const { luma, factor } = reference;
  const most = MOST_REMAINING_SHARE * Math.hypot(luma.width, luma.height);
  const why =
    best.correlation < LEAST_CORRELATION
      ? `it does not show the same scene as the reference (correlation ${best.correlation.toFixed(2)})`
      : Math.abs(best.rotationDeg) > 8 || Math.abs(best.scale - 1) > 0.15
        ? `it is turned by ${best.rotationDeg.toFixed(1)}° and ${best.scale.toFixed(2)} times the size: too far from the reference`
        : best.rmsPx > most
          ? `parts of it moved: ${(best.rmsPx * factor).toFixed(1)} px are left after alignment`
          : null;
  return { motion: scaleSimilarity(best, factor), rmsPx: best.rmsPx * factor, why };
}

/** Reference pixel to frame pixel, both from their top-left pixels. */
function fromTopLeft(
  motion: Similarity,
  reference: { readonly width: number; readonly height: number },
  frame: Rgb16Image,
): SimilarityTerms {
  const { a, b, x, y } = invertTerms(toTerms(motion));
  const cx = (reference.width - 1) / 2;
  const cy = (reference.height - 1) / 2;
  return {
    a,
    b,
    x: x - a * cx + b * cy + (frame.width - 1) / 2,
    y: y - b * cx - a * cy + (frame.height - 1) / 2,
  };
}

function thin(frame: Rgb16Image, factor: number): Rgb16Image {
  const width = Math.floor(frame.width / factor);
  const height = Math.floor(frame.height / factor);
  const data = new Uint16Array(width * height * 3);
  for (let y = 0, to = 0; y < height; y++) {
    for (let x = 0; x < width; x++, to += 3) {
      for (let channel = 0; channel < 3; channel++) {
        let sum = 0;
        for (let dy = 0; dy < factor; dy++) {
          const row = ((y * factor + dy) * frame.width + x * factor) * 3 + channel;
          for (let dx = 0; dx < factor; dx++) sum += frame.data[row + dx * 3]!;
        }
        data[to + channel] = sum / factor ** 2;
      }
    }
  }
  return { width, height, data };
}

function taken(index: number, motion: Similarity, rmsPx: number): BlendedFrame {
  const { shiftPx, rotationDeg, scale } = motion;
  return { index, used: true, why: null, shiftPx, rotationDeg, scale, rmsPx };
}

function leftOut(index: number, why: string): BlendedFrame {
  return { index, used: false, why, shiftPx: null, rotationDeg: null, scale: null, rmsPx: null };
}

function keep(frames: BlendedFrame[], frame: BlendedFrame): BlendedFrame {
  frames.push(frame);
  return frame;
}
