/** CIELAB, and the hue and chroma in it. */
import type { Triple } from './matrix.ts';

/** L* 0 (black) to 100 (white), a* towards red, b* towards yellow. */
export type Lab = Triple;

const EPSILON = (6 / 29) ** 3;
const KAPPA = (29 / 3) ** 3;

/** XYZ (any scale, that of the white) to CIELAB. @source CIE 15:2004, 8.2.1 */
export function xyzToLab([X, Y, Z]: Triple, white: Triple): Lab {
  const f = (t: number) => (t > EPSILON ? Math.cbrt(t) : (KAPPA * t + 16) / 116);
  const fx = f(X / white[0]);
  const fy = f(Y / white[1]);
  const fz = f(Z / white[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** CIELAB to XYZ in the scale of the white. @source CIE 15:2004, annex D */
export function labToXyz([L, a, b]: Lab, white: Triple): Triple {
  const fy = (L + 16) / 116;
  const back = (f: number) => (f ** 3 > EPSILON ? f ** 3 : (116 * f - 16) / KAPPA);
  return [back(fy + a / 500) * white[0], back(fy) * white[1], back(fy - b / 200) * white[2]];
}

/** Chroma C* and hue angle [°, 0 to 360) of a colour in CIELAB. */
export function chromaAndHue([, a, b]: Lab): { readonly chroma: number; readonly hueDeg: number } {
  const hue = (Math.atan2(b, a) * 180) / Math.PI;
  return { chroma: Math.hypot(a, b), hueDeg: hue < 0 ? hue + 360 : hue };
}
