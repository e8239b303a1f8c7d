/** How the surroundings of a flower moved: the camera's own part, from patches with structure. */
import type { FloatImage, LumaImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { registerSimilarity } from '../register/register-similarity.ts';
import { cut, type Patch } from './patch.ts';

/** Patches of the first frame that the camera's motion is read from; none where nothing has structure. */
export type Surroundings = readonly { readonly patch: Patch; readonly picture: FloatImage }[];

const LEAST_SIDE = 40;
/** Structure in its weaker direction, against what noise alone gives (our choice, no source). */
const STRUCTURE = 3;
const FOUND_FROM = 0.7;
const MOST_PATCHES = 6;

/**
 * The patches round a flower with structure in both directions, strongest first, clear of its swing.
 *
 * @param head the flower's own patch
 */
export function surroundingsOf(frame: LumaImage | FloatImage, head: Patch): Surroundings {
  const { width, height } = frame;
  const side = Math.max(LEAST_SIDE, Math.floor(Math.min(width, height) / 5));
  const clear = head.side / 2;
  const columns = Math.max(1, Math.floor(width / side));
  const rows = Math.max(1, Math.floor(height / side));
  const found: { patch: Patch; picture: FloatImage; structure: number }[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const left = columns === 1 ? 0 : Math.round((column * (width - side)) / (columns - 1));
      const top = rows === 1 ? 0 : Math.round((row * (height - side)) / (rows - 1));
      const apart =
        left + side <= head.left - clear ||
        left >= head.left + head.side + clear ||
        top + side <= head.top - clear ||
        top >= head.top + head.side + clear;
      if (!apart || left + side > width || top + side > height) continue;
      const patch = { left, top, side };
      const picture = cut(frame, patch);
      const structure = structureOf(picture);
      if (structure > STRUCTURE) found.push({ patch, picture, structure });
    }
  }
  return found.sort((a, b) => b.structure - a.structure).slice(0, MOST_PATCHES);
}

/**
 * How far the camera's motion shifted a place since the first frame: the median of the patches, so that one in which
 * something else moved counts for nothing; with three or more, shift and turn by least squares of those near it.
 *
 * @param at the place, px of the frame
 * @returns [px]; null where no patch was found again
 */
export function cameraShift(
  kernel: Kernel,
  surroundings: Surroundings,
  frame: LumaImage | FloatImage,
  at: { readonly x: number; readonly y: number },
): { readonly x: number; readonly y: number } | null {
  const shifts = surroundings.flatMap(({ patch, picture }) => {
    const { shiftPx, correlation } = registerSimilarity(kernel, picture, cut(frame, patch));
    if (!(correlation > FOUND_FROM)) return [];
    const centre = (patch.side - 1) / 2;
    return [{ dx: -shiftPx.x, dy: -shiftPx.y, x: patch.left + centre - at.x, y: patch.top + centre - at.y }];
  });
  if (shifts.length === 0) return null;
  const median = { x: middleOf(shifts.map(({ dx }) => dx)), y: middleOf(shifts.map(({ dy }) => dy)) };
  const off = shifts.map(({ dx, dy }) => Math.hypot(dx - median.x, dy - median.y));
  const bound = Math.max(0.5, 3 * middleOf(off));
  const kept = shifts.filter((_, i) => off[i]! <= bound);
  if (kept.length < 3) return median;
  return fitted(kept) ?? median;
}

/** Shift and turn d = t + turn (-y, x) by least squares; the shift is that at the place. */
function fitted(
  kept: readonly { readonly dx: number; readonly dy: number; readonly x: number; readonly y: number }[],
): { readonly x: number; readonly y: number } | null {
  const n = kept.length;
  const mean = (of: (one: (typeof kept)[number]) => number) => kept.reduce((s, one) => s + of(one), 0) / n;
  const [x, y, dx, dy] = [mean((k) => k.x), mean((k) => k.y), mean((k) => k.dx), mean((k) => k.dy)];
  const square = mean((k) => (k.x - x) ** 2 + (k.y - y) ** 2);
  if (!(square > 1)) return null;
  const turn = mean((k) => (k.x - x) * (k.dy - dy) - (k.y - y) * (k.dx - dx)) / square;
  return { x: dx + turn * y, y: dy - turn * x };
}

function middleOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/**
 * Gradient energy in the weaker direction against that of noise: the smaller eigenvalue of the structure tensor over
 * the noise's own share, which is half its variance for central differences.
 *
 * @source Shi & Tomasi 1994 (smaller eigenvalue); Immerkær 1996 (noise from a Laplacian), from memory
 */
function structureOf({ width, height, data }: FloatImage): number {
  let [xx, xy, yy, rough, count] = [0, 0, 0, 0, 0];
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const [l, r, u, d] = [data[i - 1]!, data[i + 1]!, data[i - width]!, data[i + width]!];
      const [gx, gy] = [(r - l) / 2, (d - u) / 2];
      xx += gx * gx;
      xy += gx * gy;
      yy += gy * gy;
      const corners =
        data[i - width - 1]! + data[i - width + 1]! + data[i + width - 1]! + data[i + width + 1]!;
      rough += Math.abs(corners - 2 * (l + r + u + d) + 4 * data[i]!);
      count++;
    }
  }
  const noise = (Math.sqrt(Math.PI / 2) * rough) / (6 * count);
  const least = (xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy);
  return least / count / (noise ** 2 / 2 + 0.05);
}
