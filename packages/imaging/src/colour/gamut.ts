/** Colours that a space cannot show: found, and brought inside without changing their hue. */
import { DomainError, requireShare } from '@tepal/science';
import { invert, multiply, type Matrix3 } from './matrix.ts';
import { coneMatrix, conesToOklab, oklabToConeRoots } from './oklab.ts';
import { rgbToRgb, WORKING_SPACE, type RgbSpace } from './rgb-space.ts';

/** Beyond 0 or 1 by less than this counts as rounding. */
const ROUNDING = 1e-4;

/** Halvings of the chroma: the boundary is found within a 4,000th of it. */
const HALVINGS = 12;

export interface GamutMapper {
  /**
   * One colour of the working space (linear) as linear RGB of the target, each 0 to 1.
   *
   * @param out three places that the result is written to
   * @returns how far its chroma was reduced, in Oklab's units: 0 where nothing was done; 0.02 is just seen
   */
  map(red: number, green: number, blue: number, out: Float64Array): number;
}

/**
 * A mapper from the working space into a space with the same white.
 *
 * Lightness and hue in Oklab are kept and the chroma is reduced until the colour fits; lighter than white becomes
 * white. With an ease above 0, chroma begins to be reduced before the boundary, so that the texture of a saturated
 * petal is not flattened on it: from (1 - ease) of the boundary on, by k + (1-k) t/(1+t).
 *
 * @param options.ease share of the way to the boundary that makes room, 0 (none) to 1
 * @throws DomainError if the white differs, or the ease is no share
 * @source the way of CSS Color 4, 13.2 (reduce chroma in OkLCh), without its clipping step
 */
export function createGamutMapper(space: RgbSpace, options: { readonly ease?: number } = {}): GamutMapper {
  const ease = requireShare('ease', options.ease ?? 0);
  if (space.white.x !== WORKING_SPACE.white.x || space.white.y !== WORKING_SPACE.white.y) {
    throw new DomainError('notOneOf', 'a space with white D65', 'space', space.name);
  }
  const t = rgbToRgb(WORKING_SPACE, space);
  const cones = coneMatrix(WORKING_SPACE);
  const fromCones = multiply(t, invert(cones));
  const knee = 1 - ease;
  // Along the line from grey through a colour each channel of the target is a cubic of the share of the chroma.
  const cubics = new Float64Array(12);

  return {
    map(red, green, blue, out) {
      out[0] = t[0] * red + t[1] * green + t[2] * blue;
      out[1] = t[3] * red + t[4] * green + t[5] * blue;
      out[2] = t[6] * red + t[7] * green + t[8] * blue;
      const inside = fits(out[0], out[1], out[2]);
      if (inside && ease === 0) return cut(out, 0);
      const [L, a, b] = conesToOklab([
        cones[0] * red + cones[1] * green + cones[2] * blue,
        cones[3] * red + cones[4] * green + cones[5] * blue,
        cones[6] * red + cones[7] * green + cones[8] * blue,
      ]);
      const chroma = Math.sqrt(a * a + b * b);
      if (L >= 1 || L <= 0) {
        out.fill(L >= 1 ? 1 : 0);
        return chroma;
      }
      if (chroma < 1e-6) return cut(out, 0);
      lineThrough(fromCones, L, a, b, cubics);
      // Well inside: even grown by the ease it would fit.
      if (inside && fitsAt(cubics, knee > 0 ? Math.min(FARTHEST, 1 / knee) : FARTHEST)) return cut(out, 0);
      const boundary = boundaryOf(cubics, inside);
      const begins = boundary * knee;
      if (begins >= 1) return cut(out, 0);
      const room = boundary - begins;
      const beyond = 1 - begins;
      const share = room === 0 ? boundary : begins + (room * beyond) / (room + beyond);
      for (let c = 0; c < 3; c += 1) out[c] = at(cubics, c, share);
      return cut(out, chroma * (1 - share));
    },
  };
}

/** Beyond so many times its chroma no colour's boundary is looked for. */
const FARTHEST = 64;

/** The boundary as a share of the colour's own chroma. */
function boundaryOf(cubics: Float64Array, inside: boolean): number {
  let low = 0;
  let high = 1;
  if (inside) {
    low = 1;
    while (low < FARTHEST && fitsAt(cubics, low * 2)) low *= 2;
    high = low * 2;
  }
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (low + high) / 2;
    if (fitsAt(cubics, middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Coefficients of the three cubics: channel = Σ f (p + k d)³ over the cones, k the share of the chroma. */
function lineThrough(f: Matrix3, L: number, a: number, b: number, out: Float64Array): void {
  const grey = oklabToConeRoots([L, 0, 0]);
  const full = oklabToConeRoots([L, a, b]);
  out.fill(0);
  for (let n = 0; n < 3; n += 1) {
    const p = grey[n]!;
    const d = full[n]! - p;
    for (let c = 0; c < 3; c += 1) {
      const w = f[3 * c + n]!;
      out[4 * c] = out[4 * c]! + w * p * p * p;
      out[4 * c + 1] = out[4 * c + 1]! + 3 * w * p * p * d;
      out[4 * c + 2] = out[4 * c + 2]! + 3 * w * p * d * d;
      out[4 * c + 3] = out[4 * c + 3]! + w * d * d * d;
    }
  }
}

function at(cubics: Float64Array, c: number, k: number): number {
  const i = 4 * c;
  return cubics[i]! + k * (cubics[i + 1]! + k * (cubics[i + 2]! + k * cubics[i + 3]!));
}

function fitsAt(cubics: Float64Array, k: number): boolean {
  return fits(at(cubics, 0, k), at(cubics, 1, k), at(cubics, 2, k));
}

function fits(r: number, g: number, b: number): boolean {
  const least = -ROUNDING;
  const most = 1 + ROUNDING;
  return r >= least && r <= most && g >= least && g <= most && b >= least && b <= most;
}

function cut(out: Float64Array, reduced: number): number {
  for (let i = 0; i < 3; i += 1) out[i] = Math.min(1, Math.max(0, out[i]!));
  return reduced;
}
