/** PNG, TIFF and (where the library reads it) HEIF by sharp: samples as stored, no colour conversion. */
import sharp, { type Sharp } from 'sharp';
import { checkMemory, checkSize, DecodeFault } from './jpeg-decoder.ts';
import { MOST_PIXELS, type Luma8, type Rgb16, type Rgb8 } from './pixels.ts';
import { decoderReason } from './plain-reasons.ts';
import type { DecodeRoom } from './room.ts';

export interface SharpHeader {
  readonly width: number;
  readonly height: number;
  readonly orientation: number | undefined;
  readonly bitsPerSample: 8 | 16;
  readonly channels: number;
  /** Whether the library has to hold the whole picture to decode any of it. */
  readonly heldWhole: boolean;
  /** Inks for print rather than light. */
  readonly inks: boolean;
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
  if (found.compression === 'hevc') {
    throw new DecodeFault(
      'It is a HEIF picture compressed by HEVC, which is not read; let the camera write JPEG or raw, or convert it.',
    );
  }
  if (found.depth !== 'uchar' && found.depth !== 'ushort') {
    throw new DecodeFault(`It holds ${found.depth} samples; whole numbers of 8 or 16 bit are read.`);
  }
  return {
    width: found.width,
    height: found.height,
    orientation: found.orientation,
    bitsPerSample: found.depth === 'ushort' ? 16 : 8,
    channels: found.channels,
    // A TIFF's strip may be the whole of it.
    heldWhole: found.isProgressive === true || found.format === 'heif' || found.format === 'tiff',
    inks: found.space === 'cmyk',
    profile: found.icc ?? null,
    exif: found.exif ?? null,
    xmp: found.xmp ?? null,
  };
}

/** What the library holds besides what comes out: the whole picture, or some rows of it [bytes]. */
function workBytes(header: SharpHeader): number {
  const { width, height, channels, bitsPerSample, heldWhole } = header;
  return (heldWhole ? height : Math.min(height, 512)) * width * channels * (bitsPerSample / 8);
}

/** Runs within the room's memory, and lets a large picture's memory go with the thread. */
function within<T>(bytes: number, room: DecodeRoom, work: () => Promise<T>): Promise<T> {
  checkMemory(bytes, room);
  const large = bytes > LARGE_BYTES;
  if (large) room.worn = true;
  return room.memory.hold(bytes, () => guarded(work), large);
}

const LARGE_BYTES = 128 * 2 ** 20;

/** Weights of a JPEG's Y. @source ITU-R BT.601 */
const LUMA = [0.299, 0.587, 0.114] as const;

/** @returns luma of the RGB as stored, by the weights of a JPEG's Y, row by row without the whole RGB in memory */
export function sharpLuma(input: string | Buffer, header: SharpHeader, room: DecodeRoom): Promise<Luma8> {
  return within(header.width * header.height + workBytes(header), room, async () => {
    const { data, info } = await opened(input)
      .flatten({ background: '#000' })
      .pipelineColourspace('srgb')
      .recomb([[...LUMA], [...LUMA], [...LUMA]])
      .toColourspace('srgb')
      .extractChannel(0)
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { width: info.width, height: info.height, data };
  });
}

/** @returns RGB as stored, 16-bit samples cut to 8 */
export function sharpRgb8(input: string | Buffer, header: SharpHeader, room: DecodeRoom): Promise<Rgb8> {
  return within(3 * header.width * header.height + workBytes(header), room, async () => {
    const { data, info } = await opened(input)
      .flatten({ background: '#000' })
      .toColourspace('srgb')
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { width: info.width, height: info.height, data };
  });
}

/** @returns RGB as stored; 8-bit samples times 257, so that white stays white */
export async function sharpRgb16(
  input: string | Buffer,
  header: SharpHeader,
  room: DecodeRoom,
): Promise<Rgb16> {
  if (header.bitsPerSample === 8) return widen(await sharpRgb8(input, header, room));
  return within(6 * header.width * header.height + workBytes(header), room, async () => {
    const { data, info } = await opened(input)
      .removeAlpha()
      .toColourspace('rgb16')
      .raw({ depth: 'ushort' })
      .toBuffer({ resolveWithObject: true });
    return {
      width: info.width,
      height: info.height,
      data: new Uint16Array(data.buffer, data.byteOffset, data.length / 2),
    };
  });
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
    throw new DecodeFault(`It cannot be decoded: ${decoderReason(error)}.`);
  }
}
