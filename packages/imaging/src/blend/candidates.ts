/** What one frame shows at a touched place of the blend, and how sharp it is there. */
import { DomainError } from '@tepal/science';
import { checkImage, type Rgb16Image, type Rgb8Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { gridOfTerms, type DisplacementGrid } from '../register/displacement.ts';
import { fromTopLeft, invertTerms, toTerms } from '../register/similarity.ts';
import { addField, type KnownPlace } from './known-place.ts';
import { warpFrame } from './warp-frame.ts';

/** A frame's crop with the geometry of the reference. */
export interface CandidateCrop {
  /** Top left of the crop in the reference [px]. */
  readonly x: number;
  readonly y: number;
  /** Encoded RGB, 16 bit. */
  readonly picture: Rgb16Image;
  /** Mean square of the finest detail of luma within the radius, less the crop's own noise [full range² x 1e6], >= 0. */
  readonly sharpness: number;
}

/**
 * A frame's crop round a place of the reference, aligned as in the blend.
 *
 * Sharpness compares frames of one series at one place; between places it says nothing.
 *
 * @param place where the frame lies: its motion and local motion, as the blend found them
 * @param reference size of the reference [px]
 * @param spot.x, spot.y centre [px of the reference]; @param spot.radiusPx 4..2,000; the crop reaches 1.5 radii
 * @throws DomainError if the frame is malformed or the spot lies outside the reference
 */
export function candidateCrop(
  kernel: Kernel,
  frame: Rgb8Image | Rgb16Image,
  place: KnownPlace,
  reference: { readonly width: number; readonly height: number },
  spot: { readonly x: number; readonly y: number; readonly radiusPx: number },
): CandidateCrop {
  checkImage('frame', frame, 3, 64);
  const inside = spot.x >= 0 && spot.y >= 0 && spot.x < reference.width && spot.y < reference.height;
  if (!inside) throw new DomainError('outOfRange', 'a place in the picture', 'spot', `${spot.x}, ${spot.y}`);
  if (!(spot.radiusPx >= 4 && spot.radiusPx <= 2000)) {
    throw new DomainError('outOfRange', 'a radius of 4 to 2000 px', 'spot.radiusPx', spot.radiusPx);
  }
  const reach = Math.ceil(1.5 * spot.radiusPx);
  const left = Math.max(0, Math.round(spot.x) - reach);
  const top = Math.max(0, Math.round(spot.y) - reach);
  const width = Math.min(reference.width, Math.round(spot.x) + reach + 1) - left;
  const height = Math.min(reference.height, Math.round(spot.y) + reach + 1) - top;
  const size = { width, height };
  const mark = kernel.mark();
  const planes = [0, 1, 2].map(() => kernel.reserve(width * height * 4 + 16)) as [number, number, number];
  warpFrame(
    kernel,
    frame,
    cropGrid(place, reference, frame, { left, top, ...size }),
    [1, 1, 1],
    planes,
    size,
  );
  const data = new Uint16Array(width * height * 3);
  const luma = new Float32Array(width * height);
  planes.forEach((pointer, channel) => {
    const plane = kernel.float32(pointer, width * height);
    for (let i = 0; i < plane.length; i++) {
      const value = Math.min(1, Math.max(0, plane[i]!));
      data[i * 3 + channel] = Math.round(value * 65535);
      luma[i]! += value * (channel === 1 ? 0.5 : 0.25);
    }
  });
  kernel.release(mark);
  const centre = { x: spot.x - left, y: spot.y - top };
  return {
    x: left,
    y: top,
    picture: { ...size, data },
    sharpness: 1e6 * detailWithin(luma, size, centre, spot.radiusPx),
  };
}

/** The grid of the whole picture, for the crop's own pixels. */
function cropGrid(
  place: KnownPlace,
  reference: { readonly width: number; readonly height: number },
  frame: { readonly width: number; readonly height: number },
  crop: { readonly left: number; readonly top: number; readonly width: number; readonly height: number },
): DisplacementGrid {
  const terms = fromTopLeft(invertTerms(toTerms(place)), reference, frame);
  const { a, b, x, y } = terms;
  const moved = {
    a,
    b,
    x: x + a * crop.left - b * crop.top,
    y: y + b * crop.left + a * crop.top,
  };
  const grid = gridOfTerms(moved, crop, 16);
  const { local } = place;
  if (local !== null && local !== undefined) addField(grid, local, 1, crop);
  return grid;
}

function detailWithin(
  luma: Float32Array,
  { width, height }: { readonly width: number; readonly height: number },
  centre: { readonly x: number; readonly y: number },
  radiusPx: number,
): number {
  const squares: number[] = [];
  let sum = 0;
  let count = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      const round = luma[at - 1]! + luma[at + 1]! + luma[at - width]! + luma[at + width]!;
      const square = (luma[at]! - round / 4) ** 2;
      squares.push(square);
      if (Math.hypot(x - centre.x, y - centre.y) > radiusPx) continue;
      sum += square;
      count++;
    }
  }
  // The quietest tenth holds noise alone: for a normal detail its squares end at 0.0158 of their mean.
  squares.sort((a, b) => a - b);
  const noise = (squares[Math.floor(squares.length / 10)] ?? 0) / 0.0158;
  return count > 0 ? Math.max(0, sum / count - noise) : 0;
}
