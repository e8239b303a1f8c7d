/** RGB spaces by their primaries, and the working space that pictures are finished in. */
import { apply, diagonal, invert, multiply, type Matrix3, type Triple } from './matrix.ts';
import { adaptation, D50, D65, PROFILE_WHITE, xyzOfChromaticity, type Chromaticity } from './white.ts';
import type { Transfer } from './transfer.ts';

export interface RgbSpace {
  /** As it is written in files and sentences. */
  readonly name: string;
  readonly red: Chromaticity;
  readonly green: Chromaticity;
  readonly blue: Chromaticity;
  readonly white: Chromaticity;
  readonly transfer: Transfer;
}

/** @source OI 8.1: IEC 61966-2-1, Display P3, Adobe RGB (1998); ROMM: ANSI/I3A IT10.7666; ITU-R BT.2020 */
export const RGB_SPACES = {
  srgb: {
    name: 'sRGB',
    red: { x: 0.64, y: 0.33 },
    green: { x: 0.3, y: 0.6 },
    blue: { x: 0.15, y: 0.06 },
    white: D65,
    transfer: 'srgb',
  },
  displayP3: {
    name: 'Display P3',
    red: { x: 0.68, y: 0.32 },
    green: { x: 0.265, y: 0.69 },
    blue: { x: 0.15, y: 0.06 },
    white: D65,
    transfer: 'srgb',
  },
  adobeRgb: {
    name: 'Adobe RGB (1998)',
    red: { x: 0.64, y: 0.33 },
    green: { x: 0.21, y: 0.71 },
    blue: { x: 0.15, y: 0.06 },
    white: D65,
    transfer: 'adobeRgb',
  },
  proPhoto: {
    name: 'ROMM RGB',
    red: { x: 0.734699, y: 0.265301 },
    green: { x: 0.159597, y: 0.840403 },
    blue: { x: 0.036598, y: 0.000105 },
    white: D50,
    transfer: 'romm',
  },
  wide: {
    name: 'BT.2020 primaries, sRGB curve',
    red: { x: 0.708, y: 0.292 },
    green: { x: 0.17, y: 0.797 },
    blue: { x: 0.131, y: 0.046 },
    white: D65,
    transfer: 'srgb',
  },
} as const satisfies Readonly<Record<string, RgbSpace>>;

export type RgbSpaceName = keyof typeof RGB_SPACES;

/**
 * The space that pictures are finished in: linear light, the primaries of BT.2020, white D65, 1 the white of the
 * picture. Wide enough for every surface colour that was measured (common practice, no source); colours outside keep
 * their negative amounts.
 */
export const WORKING_SPACE: RgbSpace = { ...RGB_SPACES.wide, name: 'linear BT.2020', transfer: 'linear' };

/**
 * Linear RGB to XYZ under the space's own white (Y of white = 1).
 *
 *   M = [Xr Xg Xb; Yr Yg Yb; Zr Zg Zb] diag(S),  S such that M (1 1 1) = white
 *
 * @source SMPTE RP 177-1993
 */
export function rgbToXyz({ red, green, blue, white }: RgbSpace): Matrix3 {
  const [r, g, b] = [red, green, blue].map(({ x, y }) => [x / y, 1, (1 - x - y) / y] as const);
  const primaries: Matrix3 = [r![0], g![0], b![0], 1, 1, 1, r![2], g![2], b![2]];
  const scale = apply(invert(primaries), xyzOfChromaticity(white));
  return multiply(primaries, diagonal(scale));
}

/** Linear RGB to the connection space of profiles: XYZ adapted to its D50. @source ICC.1:2022, annex E */
export function rgbToProfileXyz(space: RgbSpace): Matrix3 {
  return multiply(adaptation(xyzOfChromaticity(space.white), PROFILE_WHITE), rgbToXyz(space));
}

/** Linear RGB of one space to linear RGB of another; whites are adapted. */
export function rgbToRgb(from: RgbSpace, to: RgbSpace): Matrix3 {
  const adapted = adaptation(xyzOfChromaticity(from.white), xyzOfChromaticity(to.white));
  return multiply(invert(rgbToXyz(to)), multiply(adapted, rgbToXyz(from)));
}

const [, , , Yr, Yg, Yb] = rgbToXyz(WORKING_SPACE);

/** Shares of red, green and blue in the luminance of the working space. */
export const WORKING_LUMINANCE: Triple = [Yr, Yg, Yb];
