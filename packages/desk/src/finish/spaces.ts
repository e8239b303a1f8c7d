/** The colour spaces that pictures are written in, with the profiles that say so. */
import { SRGB_CURVE, readIccProfile, writeMatrixProfile } from '@tepal/formats';
import {
  multiply,
  invert,
  RGB_SPACES,
  rgbToProfileXyz,
  rgbToXyz,
  type Encoding,
  type RgbSpace,
  type RgbSpaceName,
} from '@tepal/imaging';

/** Spaces with white D65, by the names that the command line and rules use. */
export const OUTPUT_SPACES = [
  'srgb',
  'displayP3',
  'adobeRgb',
  'wide',
] as const satisfies readonly RgbSpaceName[];
export type OutputSpace = (typeof OUTPUT_SPACES)[number];

const NAMES: Readonly<Record<OutputSpace, string>> = {
  srgb: 'sRGB IEC61966-2.1',
  displayP3: 'Display P3',
  adobeRgb: 'Adobe RGB (1998)',
  wide: 'BT.2020 primaries, sRGB curve',
};

const made = new Map<OutputSpace, Uint8Array>();

export function spaceOf(name: OutputSpace): RgbSpace {
  return RGB_SPACES[name];
}

/** The profile of a space; the same bytes each time. */
export function profileOf(name: OutputSpace): Uint8Array {
  const known = made.get(name);
  if (known !== undefined) return known;
  const space = RGB_SPACES[name];
  const toXyz = rgbToProfileXyz(space);
  const bytes = writeMatrixProfile({
    name: NAMES[name],
    toXyz,
    adaptation: multiply(toXyz, invert(rgbToXyz(space))),
    curve: space.transfer === 'adobeRgb' ? { gamma: 563 / 256 } : SRGB_CURVE,
  });
  made.set(name, bytes);
  return bytes;
}

/** How far a profile's colours may lie from those of a space to be taken for it [XYZ]. */
const SAME = 1.5e-3;

/**
 * How the samples of a picture are read. A profile that is one of our spaces is taken for that space, whose curve is
 * exact where a profile's table is not.
 *
 * @returns the encoding, and a note where there is something to say
 */
export function encodingOf(profile: Uint8Array | null): {
  readonly encoding: Encoding;
  readonly note: string | null;
} {
  if (profile === null) return { encoding: RGB_SPACES.srgb, note: null };
  const read = readIccProfile(profile);
  if (!read.ok) {
    return {
      encoding: RGB_SPACES.srgb,
      note: `Its profile cannot be read (${read.fault.message}) and was taken for sRGB.`,
    };
  }
  const { colours, deviceSpace } = read.value;
  if (deviceSpace !== 'rgb') {
    return {
      encoding: RGB_SPACES.srgb,
      note: `Its profile is for ${deviceSpace} and its samples are RGB; they were taken for sRGB.`,
    };
  }
  if (colours.kind === 'table') return { encoding: colours, note: null };
  const same = OUTPUT_SPACES.find((name) => {
    const space = RGB_SPACES[name];
    const matrix = rgbToProfileXyz(space);
    const near = matrix.every((value, i) => Math.abs(value - colours.toXyz[i]!) < SAME);
    return near && colours.curves.every((curve) => isCurveOf(curve, space));
  });
  return { encoding: same === undefined ? colours : RGB_SPACES[same], note: null };
}

function isCurveOf(curve: Float32Array, space: RgbSpace): boolean {
  const last = curve.length - 1;
  return [0.1, 0.25, 0.5, 0.75, 0.9].every((code) => {
    const at = Math.round(code * last);
    const wanted = space.transfer === 'adobeRgb' ? (at / last) ** (563 / 256) : srgbLight(at / last);
    return Math.abs(curve[at]! - wanted) < 1e-3;
  });
}

const srgbLight = (v: number) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
