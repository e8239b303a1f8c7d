/** Where a flower stands in each frame of a burst or a film, the camera's own motion taken out. */
import { DomainError, requireInRange, requireShare } from '@tepal/science';
import { checkImage, type FloatImage, type LumaImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { registerSimilarity } from '../register/register-similarity.ts';
import { cut, type Patch } from './patch.ts';
import { cameraShift, surroundingsOf } from './surroundings.ts';

/** What of a frame is followed. */
export interface SwayOfWhat {
  /** Middle of the flower head, fractions of width and height from the top left [0..1]. */
  readonly point: { readonly x: number; readonly y: number };
  /** Side of the patch followed, in widths of the frame [0.05..0.6]; about the flower head's own. */
  readonly headShare?: number;
}

/** Where the flower stands against the first frame [px of the frames given], x right and y down. */
export interface FlowerDisplacement {
  readonly x: number;
  readonly y: number;
  /** Of the patch with that of the first frame, after registration [-1..1]. */
  readonly correlation: number;
  /** What the camera's own motion was taken from: still surroundings, or nothing but the frame's border. */
  readonly against: 'surroundings' | 'frame';
}

/** Follows a flower frame by frame. */
export interface SwayTracker {
  /**
   * @param frame of the same size as the first
   * @returns null where the flower is not found again
   * @throws DomainError for a frame of another size
   */
  add(frame: LumaImage | FloatImage): FlowerDisplacement | null;
}

export const USUAL_HEAD_SHARE = 0.25;
const LEAST_PATCH_PX = 48;
/** Below this the patch is another scene. */
const FOUND_FROM = 0.6;

/**
 * Follows the patch about a point by registration to a fraction of a pixel, and takes out how the surroundings moved
 * there, where these have structure. The same in a browser's worker on frames of a film (`lumaOfRgba`) as at the desk.
 *
 * The flower may move from one frame to the next by about a quarter of the patch; a background far behind it moves less
 * than the flower when the camera is shifted sideways, and that difference counts as sway.
 *
 * @param first frame that the others are held against, luma in any one range, at least 96 px each way
 * @throws DomainError for a malformed frame, a point outside it, or a share out of range
 */
export function createSwayTracker(
  kernel: Kernel,
  first: LumaImage | FloatImage,
  what: SwayOfWhat,
): SwayTracker {
  checkImage('first', first, 1, 96);
  const { width, height } = first;
  const share = requireInRange('headShare', what.headShare ?? USUAL_HEAD_SHARE, { min: 0.05, max: 0.6 });
  const side = Math.min(width, height, Math.max(LEAST_PATCH_PX, Math.round(share * width)));
  const x = requireShare('point.x', what.point.x) * width;
  const y = requireShare('point.y', what.point.y) * height;
  const home = placed(first, { left: Math.round(x - side / 2), top: Math.round(y - side / 2), side });
  const head = cut(first, home);
  const around = surroundingsOf(first, home);
  const middle = { x: home.left + (side - 1) / 2, y: home.top + (side - 1) / 2 };
  let last = { x: 0, y: 0 };

  const seek = (frame: LumaImage | FloatImage, from: { readonly x: number; readonly y: number }) => {
    const there = placed(frame, {
      left: home.left + Math.round(from.x),
      top: home.top + Math.round(from.y),
      side,
    });
    const { shiftPx, correlation } = registerSimilarity(kernel, head, cut(frame, there));
    return {
      x: there.left - home.left - shiftPx.x,
      y: there.top - home.top - shiftPx.y,
      correlation,
    };
  };

  return {
    add(frame) {
      checkImage('frame', frame, 1, 96);
      if (frame.width !== width || frame.height !== height) {
        throw new DomainError(
          'outOfRange',
          `${width} x ${height} px`,
          'frame',
          `${frame.width} x ${frame.height}`,
        );
      }
      let found = seek(frame, last);
      // Where the flower has gone far, it is sought again from home; then once more from where it seems to be.
      if (found.correlation < FOUND_FROM) found = better(found, seek(frame, { x: 0, y: 0 }));
      if (Math.hypot(found.x - last.x, found.y - last.y) > side / 16)
        found = better(found, seek(frame, found));
      if (!(found.correlation >= FOUND_FROM)) return null;
      last = { x: found.x, y: found.y };
      const camera = cameraShift(kernel, around, frame, middle);
      return {
        x: found.x - (camera?.x ?? 0),
        y: found.y - (camera?.y ?? 0),
        correlation: found.correlation,
        against: camera === null ? 'frame' : 'surroundings',
      };
    },
  };
}

const better = <T extends { readonly correlation: number }>(one: T, other: T): T =>
  other.correlation > one.correlation ? other : one;

/** The square moved to lie inside the frame. */
function placed({ width, height }: { readonly width: number; readonly height: number }, patch: Patch): Patch {
  const within = (at: number, length: number) => Math.max(0, Math.min(length - patch.side, at));
  return { side: patch.side, left: within(patch.left, width), top: within(patch.top, height) };
}
