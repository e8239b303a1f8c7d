/** A small spot replaced by its like from nearby: dust, a speck of pollen, a hot pixel. */
import { DomainError, requireInRange, requireShare } from '@tepal/science';
import { planesOf, type LinearPicture } from '../develop/linear-picture.ts';

export interface Spot {
  /** Middle as fractions of width and height, radius as a fraction of the width. */
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** Middle of the place that it is filled from; the likest place nearby unless given. */
  readonly from?: { readonly x: number; readonly y: number };
}

/** Places tried round the spot: distances in radii, and directions. */
const DISTANCES = [2.3, 3, 4, 5.5];
const DIRECTIONS = 16;

/** Points of the rim that brightness is matched at. */
const RIM_POINTS = 64;

/**
 * Removes a spot, in place: the patch from elsewhere is laid over it, and its difference from the surroundings, known
 * all along the rim, is spread smoothly inwards and taken away. So brightness and colour meet at the rim whatever
 * gradient runs through the place.
 *
 *   inside: source + Σ w (target - source)/Σ w over the rim, w by mean-value coordinates
 *
 * @throws DomainError if the spot, or the place given to fill it from, does not lie within the picture
 * @source Farbman et al. 2009, Coordinates for Instant Image Cloning, ACM TOG 28(3), eq. 1 and 2
 */
export function removeSpot(picture: LinearPicture, spot: Spot): void {
  const { width, height } = picture;
  const cx = requireShare('x', spot.x) * width;
  const cy = requireShare('y', spot.y) * height;
  const r = Math.max(
    1.5,
    requireInRange('radius', spot.radius, { min: 0, minExclusive: true, max: 0.1 }) * width,
  );
  const source = spot.from
    ? { x: requireShare('from.x', spot.from.x) * width, y: requireShare('from.y', spot.from.y) * height }
    : likest(picture, cx, cy, r);
  const dx = Math.round(source.x - cx);
  const dy = Math.round(source.y - cy);
  if (dx === 0 && dy === 0) {
    throw new DomainError('outOfRange', 'a place other than the spot', 'from', `${source.x}, ${source.y}`);
  }
  const rim = rimOf(cx, cy, r);
  const top = Math.max(0, Math.ceil(cy - r));
  const bottom = Math.min(height - 1, Math.floor(cy + r));
  const left = Math.max(0, Math.ceil(cx - r));
  const right = Math.min(width - 1, Math.floor(cx + r));
  const fill: { readonly at: number; readonly values: readonly number[] }[] = [];
  const planes = planesOf(picture);
  const differences = planes.map((plane) =>
    rim.map(({ x, y }) => sample(plane, picture, x, y) - sample(plane, picture, x + dx, y + dy)),
  );
  const weights = new Float64Array(rim.length);
  for (let y = top; y <= bottom; y += 1) {
    for (let x = left; x <= right; x += 1) {
      if (Math.hypot(x - cx, y - cy) >= r) continue;
      const total = meanValueWeights(rim, x, y, weights);
      fill.push({
        at: y * width + x,
        values: planes.map((plane, c) => {
          let change = 0;
          for (let k = 0; k < rim.length; k += 1) change += weights[k]! * differences[c]![k]!;
          return sample(plane, picture, x + dx, y + dy) + change / total;
        }),
      });
    }
  }
  for (const { at, values } of fill) planes.forEach((plane, c) => (plane[at] = values[c]!));
}

function rimOf(cx: number, cy: number, r: number) {
  return Array.from({ length: RIM_POINTS }, (_, k) => {
    const angle = (2 * Math.PI * k) / RIM_POINTS;
    return { x: cx + r * Math.cos(angle), y: cy + r * Math.sin(angle) };
  });
}

/** w = (tan(α before / 2) + tan(α after / 2)) / distance, for each point of the rim; @returns their sum */
function meanValueWeights(
  rim: readonly { readonly x: number; readonly y: number }[],
  x: number,
  y: number,
  out: Float64Array,
): number {
  const n = rim.length;
  const tangent = (i: number, j: number) => {
    const ax = rim[i]!.x - x;
    const ay = rim[i]!.y - y;
    const bx = rim[j]!.x - x;
    const by = rim[j]!.y - y;
    const dot = ax * bx + ay * by;
    const cross = Math.abs(ax * by - ay * bx);
    // tan(α/2) = |cross| / (|a||b| + dot)
    return cross / Math.max(1e-9, Math.hypot(ax, ay) * Math.hypot(bx, by) + dot);
  };
  let total = 0;
  for (let k = 0; k < n; k += 1) {
    const distance = Math.max(1e-6, Math.hypot(rim[k]!.x - x, rim[k]!.y - y));
    const w = (tangent((k + n - 1) % n, k) + tangent(k, (k + 1) % n)) / distance;
    out[k] = w;
    total += w;
  }
  return total;
}

/** The place whose surroundings are most like those of the spot, brightness apart. */
function likest(picture: LinearPicture, cx: number, cy: number, r: number): { x: number; y: number } {
  const { width, height, green } = picture;
  const ring = [1.15, 1.5, 1.9].flatMap((share) => rimOf(cx, cy, share * r));
  let best: { x: number; y: number } | null = null;
  let least = Infinity;
  for (const distance of DISTANCES) {
    for (let k = 0; k < DIRECTIONS; k += 1) {
      const angle = (2 * Math.PI * k) / DIRECTIONS;
      const dx = Math.round(distance * r * Math.cos(angle));
      const dy = Math.round(distance * r * Math.sin(angle));
      const inside = cx + dx > r && cy + dy > r && cx + dx < width - r && cy + dy < height - r;
      if (!inside) continue;
      let sum = 0;
      let squares = 0;
      for (const { x, y } of ring) {
        const d = sample(green, picture, x, y) - sample(green, picture, x + dx, y + dy);
        sum += d;
        squares += d * d;
      }
      // The mean difference is made good along the rim; what is left of it counts a little.
      const mean = sum / ring.length;
      const difference = squares / ring.length - 0.8 * mean * mean;
      if (difference < least) {
        least = difference;
        best = { x: cx + dx, y: cy + dy };
      }
    }
  }
  if (best === null) {
    throw new DomainError(
      'outOfRange',
      'a spot with room beside it to fill it from',
      'spot',
      `radius ${r} px`,
    );
  }
  return best;
}

/** Between pixels by straight lines; beyond the border the border's own value. */
function sample(plane: Float32Array, size: { width: number; height: number }, x: number, y: number): number {
  const { width, height } = size;
  const cx = Math.min(width - 1, Math.max(0, x));
  const cy = Math.min(height - 1, Math.max(0, y));
  const x0 = Math.floor(cx);
  const y0 = Math.floor(cy);
  const x1 = Math.min(width - 1, x0 + 1);
  const y1 = Math.min(height - 1, y0 + 1);
  const top = plane[y0 * width + x0]! + (plane[y0 * width + x1]! - plane[y0 * width + x0]!) * (cx - x0);
  const bottom = plane[y1 * width + x0]! + (plane[y1 * width + x1]! - plane[y1 * width + x0]!) * (cx - x0);
  return top + (bottom - top) * (cy - y0);
}
