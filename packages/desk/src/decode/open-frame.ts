/** One door to every kind of photograph: luma for measuring, RGB for looking, 16-bit RGB for blending; upright all. */
import { readPhotoMetadata, type PhotoMetadata } from '@tepal/formats';
import { readFile } from 'node:fs/promises';
import { reasonOf } from '../files/faults.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { DecodeFault, jpegLuma, jpegRgb, jpegSize, jpegTop, lumaOf } from './jpeg-decoder.ts';
import {
  asOrientation,
  bringUpright,
  type Luma8,
  type Orientation,
  type PixelSize,
  type Rgb16,
  type Rgb8,
} from './pixels.ts';
import { rawMosaic, rawPreview, rawRgb16, rawRgb8, type RawHeader } from './raw-decoder.ts';
import { lumaOfMosaic } from './raw-mosaic.ts';
import { newDecodeRoom, roomFor, type DecodeRoom } from './room.ts';
import { sharpHeader, sharpLuma, sharpRgb16, sharpRgb8, widen, type SharpHeader } from './sharp-decoder.ts';

/** A photograph whose bytes are in memory and whose kind is known. */
export interface OpenFrame {
  readonly kind: PhotographKind;
  readonly bytes: Buffer;
  /** EXIF orientation of what is decoded. */
  readonly orientation: Orientation;
  /** For a raw: what it says of itself, and its preview when that has (nearly) the picture's full size. */
  readonly raw: { readonly header: RawHeader; readonly preview: Buffer | null } | null;
  /** For what is neither raw nor JPEG: what its decoder says of it. */
  readonly header: SharpHeader | null;
  /** What the file says of itself; null where our reader does not know its kind. */
  readonly said: PhotoMetadata | null;
}

/** A preview this large against the picture stands for it when measuring. */
const FULL_SIZE_FROM = 0.9;

/**
 * Reads a photograph and its headers.
 *
 * @throws DecodeFault with a sentence when it cannot be read
 */
export async function openFrame(path: string, kind: PhotographKind): Promise<OpenFrame> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new DecodeFault(`It cannot be read: ${reasonOf(error)}.`);
  }
  return openBytes(bytes, kind);
}

export async function openBytes(bytes: Buffer, kind: PhotographKind): Promise<OpenFrame> {
  if (bytes.length === 0) throw new DecodeFault('It is an empty file (0 bytes).');
  const read = readPhotoMetadata(bytes);
  const said = read.ok ? read.value : null;
  const none = { kind, bytes, said, raw: null, header: null };
  if (kind === 'raw') {
    const { header, preview } = await rawPreview(bytes);
    const size = header.preview;
    const full = size !== null && size.width >= FULL_SIZE_FROM * header.width;
    return { ...none, orientation: header.orientation, raw: { header, preview: full ? preview : null } };
  }
  if (kind === 'jpeg') return { ...none, orientation: asOrientation(said?.orientation) };
  const header = await sharpHeader(bytes);
  // HEIF is turned by its own decoder.
  return { ...none, header, orientation: kind === 'heif' ? 1 : asOrientation(header.orientation) };
}

/** A shorter side has nothing to be measured on [px]. */
const LEAST_SIDE_PX = 16;

/**
 * @returns upright luma; it may lie in the room's buffer, valid until the next decode
 * @throws DecodeFault when it cannot be decoded or is too small to be measured
 */
export async function lumaOfFrame(frame: OpenFrame, room: DecodeRoom): Promise<Luma8> {
  const luma = bringUpright(await storedLuma(frame, room), 1, frame.orientation);
  if (Math.min(luma.width, luma.height) < LEAST_SIDE_PX) {
    throw new DecodeFault(
      `It is ${luma.width} × ${luma.height} px; pictures of at least ${LEAST_SIDE_PX} × ${LEAST_SIDE_PX} px are measured.`,
    );
  }
  return luma;
}

async function storedLuma(frame: OpenFrame, room: DecodeRoom): Promise<Luma8> {
  if (frame.kind === 'jpeg') return jpegLuma(frame.bytes, room);
  if (frame.raw === null) {
    const header = headerOf(frame);
    return header.inks
      ? lumaOf(await sharpRgb8(frame.bytes, header, room))
      : sharpLuma(frame.bytes, header, room);
  }
  const { header, preview } = frame.raw;
  if (preview !== null) {
    try {
      return await jpegLuma(preview, room);
    } catch {
      // A damaged preview says nothing of the pixels behind it.
    }
  }
  if (!header.bayer) return lumaOf(await rawRgb8(frame.bytes, header, room));
  const mosaic = await rawMosaic(frame.bytes, header, room);
  return lumaOfMosaic(mosaic, roomFor(room, 'luma', mosaic.width * mosaic.height));
}

/** @returns upright RGB; it may lie in the room's buffer, valid until the next decode */
export async function rgbOfFrame(frame: OpenFrame, room: DecodeRoom): Promise<Rgb8> {
  const jpeg = frame.kind === 'jpeg' ? frame.bytes : frame.raw?.preview;
  const stored = jpeg ? await jpegRgb(jpeg, room) : await storedRgb(frame, room);
  return bringUpright(stored, 3, frame.orientation);
}

/** A picture of which only the upper rows are in memory; `whole` is the size that places in it are counted by. */
export interface FrameTop {
  readonly whole: PixelSize;
  readonly rows: PixelSize & { readonly data: Uint8Array };
}

/**
 * The upper rows of a frame, upright, as far down as they are wanted: a crop need not cost the rows below it. All rows
 * where the frame lies turned, or its kind is decoded whole.
 *
 * @param rowsOf the rows wanted, from the size of the whole upright picture
 * @returns valid until the next decode
 */
export async function topOfFrame(
  frame: OpenFrame,
  channels: 1 | 3,
  rowsOf: (whole: PixelSize) => number,
  room: DecodeRoom,
): Promise<FrameTop> {
  const jpeg = frame.kind === 'jpeg' ? frame.bytes : frame.raw?.preview;
  if (jpeg && (frame.orientation === 1 || frame.orientation === 2)) {
    const whole = jpegSize(jpeg);
    const rows = await jpegTop(jpeg, channels, rowsOf(whole), room);
    return { whole, rows: bringUpright(rows, channels, frame.orientation) };
  }
  const rows = channels === 1 ? await lumaOfFrame(frame, room) : await rgbOfFrame(frame, room);
  return { whole: rows, rows };
}

function storedRgb(frame: OpenFrame, room: DecodeRoom): Promise<Rgb8> {
  return frame.raw === null
    ? sharpRgb8(frame.bytes, headerOf(frame), room)
    : rawRgb8(frame.bytes, frame.raw.header, room);
}

function headerOf({ header }: OpenFrame): SharpHeader {
  if (header === null) throw new DecodeFault('Its header was not read.');
  return header;
}

/** What one picture for blending or finishing may take [bytes]: it is the only one at the time. */
const ONE_PICTURE_BYTES = 1800 * 2 ** 20;

/** The picture for blending, upright, with the profile that its samples are in; null stands for sRGB. */
export async function rgb16OfFrame(
  frame: OpenFrame,
): Promise<{ readonly picture: Rgb16; readonly profile: Uint8Array | null }> {
  const room = newDecodeRoom({ totalBytes: ONE_PICTURE_BYTES, hold: (_, work) => work() });
  if (frame.raw !== null) {
    const stored = await rawRgb16(frame.bytes, frame.raw.header, room);
    return { picture: bringUpright(stored, 3, frame.orientation), profile: null };
  }
  if (frame.kind === 'jpeg') {
    const { profile } = await sharpHeader(frame.bytes);
    const rgb = await jpegRgb(frame.bytes, room);
    return { picture: widen(bringUpright(rgb, 3, frame.orientation)), profile };
  }
  const header = headerOf(frame);
  const picture = await sharpRgb16(frame.bytes, header, room);
  return { picture: bringUpright(picture, 3, frame.orientation), profile: header.profile };
}
