/** One door to every kind of photograph: luma for measuring, RGB for looking, 16-bit RGB for blending; upright all. */
import { readFile } from 'node:fs/promises';
import { reasonOf } from '../files/faults.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { DecodeFault, jpegLuma, jpegRgb, lumaOf, type DecodeBuffers } from './jpeg-decoder.ts';
import {
  asOrientation,
  bringUpright,
  type Luma8,
  type Orientation,
  type Rgb16,
  type Rgb8,
} from './pixels.ts';
import { rawPreview, rawRgb16, rawRgb8, type RawHeader } from './raw-decoder.ts';
import { sharpHeader, sharpRgb16, sharpRgb8, widen } from './sharp-decoder.ts';

/** A photograph whose bytes are in memory and whose kind is known. */
export interface OpenFrame {
  readonly kind: PhotographKind;
  readonly bytes: Buffer;
  /** EXIF orientation of what is decoded. */
  readonly orientation: Orientation;
  /** For a raw: what it says of itself, and its preview when that has (nearly) the picture's full size. */
  readonly raw: { readonly header: RawHeader; readonly preview: Buffer | null } | null;
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
  if (kind === 'raw') {
    const { header, preview } = await rawPreview(bytes);
    const size = header.preview;
    const full = size !== null && size.width >= FULL_SIZE_FROM * header.width;
    return {
      kind,
      bytes,
      orientation: header.orientation,
      raw: { header, preview: full ? preview : null },
    };
  }
  if (kind === 'jpeg') {
    const { orientation } = await sharpHeader(bytes).catch(() => ({ orientation: 1 }));
    return { kind, bytes, orientation: asOrientation(orientation), raw: null };
  }
  const { orientation } = await sharpHeader(bytes);
  // HEIF is turned by its own decoder.
  return { kind, bytes, orientation: kind === 'heif' ? 1 : asOrientation(orientation), raw: null };
}

/** @returns upright luma; it may lie in `buffers`, valid until the next decode */
export async function lumaOfFrame(frame: OpenFrame, buffers: DecodeBuffers): Promise<Luma8> {
  const jpeg = frame.kind === 'jpeg' ? frame.bytes : frame.raw?.preview;
  const stored = jpeg ? await jpegLuma(jpeg, buffers) : lumaOf(await storedRgb(frame));
  return bringUpright(stored, 1, frame.orientation);
}

/** @returns upright RGB; it may lie in `buffers`, valid until the next decode */
export async function rgbOfFrame(frame: OpenFrame, buffers: DecodeBuffers): Promise<Rgb8> {
  const jpeg = frame.kind === 'jpeg' ? frame.bytes : frame.raw?.preview;
  const stored = jpeg ? await jpegRgb(jpeg, buffers) : await storedRgb(frame);
  return bringUpright(stored, 3, frame.orientation);
}

function storedRgb(frame: OpenFrame): Promise<Rgb8> {
  return frame.kind === 'raw' ? rawRgb8(frame.bytes) : sharpRgb8(frame.bytes);
}

/** The picture for blending, upright, with the profile that its samples are in; null stands for sRGB. */
export async function rgb16OfFrame(
  frame: OpenFrame,
): Promise<{ readonly picture: Rgb16; readonly profile: Uint8Array | null }> {
  if (frame.kind === 'raw') {
    const picture = bringUpright(await rawRgb16(frame.bytes), 3, frame.orientation);
    return { picture, profile: null };
  }
  if (frame.kind === 'jpeg') {
    const { profile } = await sharpHeader(frame.bytes);
    const rgb = await jpegRgb(frame.bytes, { luma: Buffer.alloc(0), rgb: Buffer.alloc(0) });
    return { picture: widen(bringUpright(rgb, 3, frame.orientation)), profile };
  }
  const { profile, bitsPerSample } = await sharpHeader(frame.bytes);
  const picture = await sharpRgb16(frame.bytes, bitsPerSample);
  return { picture: bringUpright(picture, 3, frame.orientation), profile };
}
