/** PNG, TIFF and (where the library reads it) HEIF by sharp: samples as stored, no colour conversion. */
import sharp, { type Sharp } from 'sharp';
import { reasonOf } from '../files/faults.ts';
import { checkSize, DecodeFault } from './jpeg-decoder.ts';
import { MOST_PIXELS, type Rgb16, type Rgb8 } from './pixels.ts';

export interface SharpHeader {
  readonly width: number;
  readonly height: number;
  readonly orientation: number | undefined;
  readonly bitsPerSample: 8 | 16;
  readonly profile: Uint8Array | null;
  readonly exif: Uint8Array | null;
  readonly xmp: Uint8Array | null;
}

const opened = (input: string | Buffer): Sharp =>
  // The embedded profile is left alone: samples are wanted as stored, and the profile goes with them.
  sharp(input, { limitInputPixels: MOST_PIXELS, failOn: 'warning', ignoreIcc: true, pages: 1 });

/** @throws DecodeFault when the header cannot be read or claims too many pixels */
export async function sharpHeader(input: string | Buffer): Promise<SharpHeader> {
  const found = await guarded(() =>
    sharp(input, { limitInputPixels: false, failOn: 'warning', pages: 1 }).metadata(),
  );
  checkSize(found.width, found.height);
  if (found.depth !== 'uchar' && found.depth !== 'ushort') {
    throw new DecodeFault(`It holds ${found.depth} samples; whole numbers of 8 or 16 bit are read.`);
  }
  return {
    width: found.width,
    height: found.height,
    orientation: found.orientation,
    bitsPerSample: found.depth === 'ushort' ? 16 : 8,
    profile: found.icc ?? null,
    exif: found.exif ?? null,
    xmp: found.xmp ?? null,
  };
}

/** @returns RGB as stored, 16-bit samples cut to 8 */
export async function sharpRgb8(input: string | Buffer): Promise<Rgb8> {
  const { data, info } = await guarded(() =>
    opened(input)
      .flatten({ background: '#000' })
      .toColourspace('srgb')
      .raw()
      .toBuffer({ resolveWithObject: true }),
  );
  return { width: info.width, height: info.height, data };
}

/** @returns RGB as stored; 8-bit samples times 257, so that white stays white */
export async function sharpRgb16(input: string | Buffer, bitsPerSample: 8 | 16): Promise<Rgb16> {
  if (bitsPerSample === 8) return widen(await sharpRgb8(input));
  const { data, info } = await guarded(() =>
    opened(input)
      .removeAlpha()
      .toColourspace('rgb16')
      .raw({ depth: 'ushort' })
      .toBuffer({ resolveWithObject: true }),
  );
  return {
    width: info.width,
    height: info.height,
    data: new Uint16Array(data.buffer, data.byteOffset, data.length / 2),
  };
}

export function widen(rgb: Rgb8): Rgb16 {
  const data = new Uint16Array(rgb.data.length);
  for (let i = 0; i < data.length; i += 1) data[i] = rgb.data[i]! * 257;
  return { width: rgb.width, height: rgb.height, data };
}

async function guarded<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw new DecodeFault(`It cannot be decoded: ${reasonOf(error)}.`);
  }
}
