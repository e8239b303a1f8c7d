/** Pictures that are already rendered: encoded samples with a profile to linear light of the working space, and back. */
import { DomainError } from '@tepal/science';
import { createGamutMapper } from '../colour/gamut.ts';
import { apply, invert, multiply, type Matrix3, type Triple } from '../colour/matrix.ts';
import { profileToXyz, throughCurve, type ProfileColours } from '../colour/profile-transform.ts';
import { RGB_SPACES, rgbToProfileXyz, rgbToRgb, WORKING_SPACE, type RgbSpace } from '../colour/rgb-space.ts';
import { createEncoder, decodingTable } from '../colour/transfer.ts';
import { checkImage, type Rgb16Image, type Rgb8Image } from '../image.ts';
import { blankPicture, planesOf, turnColours, type LinearPicture } from './linear-picture.ts';

const xyzToWorking = invert(rgbToProfileXyz(WORKING_SPACE));

/** How an encoded picture is read: by a space that is known, or by the profile that came with it. */
export type Encoding = RgbSpace | ProfileColours;

/**
 * Encoded 16-bit RGB to the working space; 65535 is 1.
 *
 * @param encoding the space or profile of the samples; sRGB where a picture has none
 * @throws DomainError if the image is malformed, or the profile is not one of three channels
 */
export function decodeRendered(image: Rgb16Image, encoding: Encoding = RGB_SPACES.srgb): LinearPicture {
  checkImage('image', image, 3);
  const { width, height, data } = image;
  const picture = blankPicture(width, height);
  const [red, green, blue] = planesOf(picture);
  if ('kind' in encoding && encoding.kind === 'table') {
    if (encoding.channels !== 3) {
      throw new DomainError(
        'notOneOf',
        'a profile of three channels',
        'encoding',
        `${encoding.channels} channels`,
      );
    }
    for (let i = 0, at = 0; i < red.length; i += 1, at += 3) {
      const device = [data[at]! / 65_535, data[at + 1]! / 65_535, data[at + 2]! / 65_535];
      [red[i], green[i], blue[i]] = apply(xyzToWorking, profileToXyz(encoding, device)) as [
        number,
        number,
        number,
      ];
    }
    return picture;
  }
  const { tables, matrix } = waysIn(encoding);
  planesOf(picture).forEach((plane, c) => {
    const table = tables[c]!;
    for (let i = 0, at = c; i < plane.length; i += 1, at += 3) plane[i] = table[data[at]!]!;
  });
  turnColours(picture, matrix);
  return picture;
}

function waysIn(encoding: RgbSpace | Extract<ProfileColours, { kind: 'matrix' }>): {
  readonly tables: readonly [Float32Array, Float32Array, Float32Array];
  readonly matrix: Matrix3;
} {
  if ('kind' in encoding) {
    const tables = encoding.curves.map((curve) =>
      Float32Array.from({ length: 65_536 }, (_, code) => throughCurve(curve, code / 65_535)),
    ) as unknown as readonly [Float32Array, Float32Array, Float32Array];
    return { tables, matrix: multiply(xyzToWorking, encoding.toXyz) };
  }
  const table = decodingTable(encoding.transfer, 65_536);
  return { tables: [table, table, table], matrix: rgbToRgb(encoding, WORKING_SPACE) };
}

export interface EncodedPicture {
  readonly image: Rgb16Image;
  /** Share of pixels whose chroma had to be reduced visibly (by more than 0.02 in Oklab). */
  readonly outsideGamut: number;
  /** Share of pixels brighter than white. */
  readonly brighterThanWhite: number;
}

/** A change of chroma that is just seen. @source CSS Color 4, 13.2 */
export const JUST_SEEN = 0.02;

/**
 * Rows of the picture as encoded 16-bit RGB, colours that do not fit brought inside with their hue kept.
 *
 * @param rows first row, and the row after the last; the whole picture unless given
 */
export function encodeRendered(
  picture: LinearPicture,
  space: RgbSpace,
  options: { readonly ease?: number; readonly rows?: readonly [number, number] } = {},
): EncodedPicture {
  const { width, height, red, green, blue } = picture;
  const [top, bottom] = options.rows ?? [0, height];
  const data = new Uint16Array(width * (bottom - top) * 3);
  const mapper = createGamutMapper(space, { ease: options.ease ?? 0 });
  const encode = createEncoder(space.transfer);
  const out = new Float64Array(3);
  let outside = 0;
  let brighter = 0;
  let at = 0;
  for (let i = top * width; i < bottom * width; i += 1) {
    const r = red[i]!;
    const g = green[i]!;
    const b = blue[i]!;
    if (r > 1.0001 && g > 1.0001 && b > 1.0001) {
      brighter += 1;
      out.fill(1);
    } else if (mapper.map(r, g, b, out) > JUST_SEEN) outside += 1;
    data[at] = Math.round(encode(out[0]!) * 65_535);
    data[at + 1] = Math.round(encode(out[1]!) * 65_535);
    data[at + 2] = Math.round(encode(out[2]!) * 65_535);
    at += 3;
  }
  const pixels = Math.max(1, width * (bottom - top));
  return {
    image: { width, height: bottom - top, data },
    outsideGamut: outside / pixels,
    brighterThanWhite: brighter / pixels,
  };
}

/** 16-bit codes to 8-bit ones, each the nearest. */
export function toEightBit(image: Rgb16Image): Rgb8Image {
  const data = new Uint8Array(image.data.length);
  for (let i = 0; i < data.length; i += 1) data[i] = Math.round(image.data[i]! / 257);
  return { width: image.width, height: image.height, data };
}

/** A colour of the working space in the connection space of profiles, XYZ under D50. */
export function workingToProfileXyz(rgb: Triple): Triple {
  return apply(rgbToProfileXyz(WORKING_SPACE), rgb);
}
