/** Colours that a space cannot show: found, and brought inside without changing their hue. */
import { DomainError, requireShare } from '@tepal/science';
import { invert, multiply, type Matrix3, type Triple } from './matrix.ts';
import { coneMatrix, conesToOklab, oklabToCones } from './oklab.ts';
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
  const toTarget = rgbToRgb(WORKING_SPACE, space);
  const toCones = coneMatrix(WORKING_SPACE);
  const fromCones = multiply(toTarget, invert(toCones));
  const knee = 1 - ease;

  return {
    map(red, green, blue, out) {
      into(toTarget, red, green, blue, out);
      const inside = fits(out);
      if (inside && ease === 0) return cut(out, 0);
      const [L, a, b] = conesToOklab(applied(toCones, red, green, blue));
      if (L >= 1) return white(out, Math.hypot(a, b));
      if (L <= 0) return black(out, Math.hypot(a, b));
      const at = (share: number) => lchInto(fromCones, L, a * share, b * share, out);
      const chroma = Math.hypot(a, b);
      if (chroma < 1e-6) {
        at(0);
        return cut(out, 0);
      }
      if (inside) {
        // Well inside: even grown by the ease it would fit.
        at(knee > 0 ? 1 / knee : 64);
        if (fits(out)) {
          into(toTarget, red, green, blue, out);
          return cut(out, 0);
        }
      }
      // The boundary as a share of this colour's own chroma.
      let low = 0;
      let high = inside ? 64 : 1;
      if (inside) {
        low = 1;
        while (low < 64 && (at(low * 2), fits(out))) low *= 2;
        high = low * 2;
      }
      for (let i = 0; i < HALVINGS; i += 1) {
        const middle = (low + high) / 2;
        at(middle);
        if (fits(out)) low = middle;
        else high = middle;
      }
      const boundary = low;
      const room = boundary * (1 - knee);
      const beyond = 1 - boundary * knee;
      if (beyond <= 0) {
        into(toTarget, red, green, blue, out);
        return cut(out, 0);
      }
      const t = room === 0 ? Infinity : beyond / room;
      const share = boundary * knee + (room === 0 ? 0 : (room * t) / (1 + t));
      at(Math.min(boundary, share));
      return cut(out, chroma * (1 - Math.min(boundary, share)));
    },
  };
}

function applied(m: Matrix3, r: number, g: number, b: number): Triple {
  return [m[0] * r + m[1] * g + m[2] * b, m[3] * r + m[4] * g + m[5] * b, m[6] * r + m[7] * g + m[8] * b];
}

function into(m: Matrix3, r: number, g: number, b: number, out: Float64Array): void {
  out[0] = m[0] * r + m[1] * g + m[2] * b;
  out[1] = m[3] * r + m[4] * g + m[5] * b;
  out[2] = m[6] * r + m[7] * g + m[8] * b;
}

function lchInto(fromCones: Matrix3, L: number, a: number, b: number, out: Float64Array): void {
  const [l, m, s] = oklabToCones([L, a, b]);
  into(fromCones, l, m, s, out);
}

function fits(rgb: Float64Array): boolean {
  const least = -ROUNDING;
  const most = 1 + ROUNDING;
  const r = rgb[0]!;
  const g = rgb[1]!;
  const b = rgb[2]!;
  return r >= least && r <= most && g >= least && g <= most && b >= least && b <= most;
}

function cut(out: Float64Array, reduced: number): number {
  for (let i = 0; i < 3; i += 1) out[i] = Math.min(1, Math.max(0, out[i]!));
  return reduced;
}

function white(out: Float64Array, chroma: number): number {
  out.fill(1);
  return chroma;
}

function black(out: Float64Array, chroma: number): number {
  out.fill(0);
  return chroma;
}
