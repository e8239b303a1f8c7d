/** JPEG to luma or RGB by libjpeg-turbo; a picture that is cut off or damaged is a fault, not a grey half. */
import type * as JpegTurbo from '@julusian/jpeg-turbo';
import { describeJpeg } from '@tepal/formats';
import { createRequire } from 'node:module';
import sharp from 'sharp';
import { MOST_PIXELS, type Luma8, type PixelSize, type Rgb8 } from './pixels.ts';
import { decoderReason } from './plain-reasons.ts';
import { roomFor, type DecodeRoom } from './room.ts';

/** The addon is CommonJS made at run time: its names cannot be imported one by one. */
const { decompressSync, FORMAT_GRAY, FORMAT_RGB } = createRequire(import.meta.url)(
  '@julusian/jpeg-turbo',
) as typeof JpegTurbo;

/** A picture that cannot be decoded, with the reason as a sentence. */
export class DecodeFault extends Error {
  override readonly name = 'DecodeFault';
}

export interface JpegSize extends PixelSize {
  readonly components: number;
  /** Where the height stands in the bytes, when rows are decoded one after another in one scan; else null. */
  readonly heightAt: number | null;
  /** What decoding it holds besides the samples that come out [bytes]. */
  readonly workBytes: number;
}

/**
 * The size of a JPEG as stored.
 *
 * @throws DecodeFault when it is no whole JPEG, or larger than is decoded
 */
export function jpegSize(bytes: Uint8Array): JpegSize {
  const described = describeJpeg(bytes);
  if (!described.ok) throw new DecodeFault(`It is no whole JPEG: ${described.fault.message}`);
  const { widthPx, heightPx, complete, components, progressive, segments } = described.value;
  checkSize(widthPx, heightPx);
  if (!complete) {
    throw new DecodeFault(
      `The JPEG is cut off: ${described.warnings[0] ?? `it stops after ${bytes.length} bytes.`}`,
    );
  }
  const scans = segments.filter(({ marker }) => marker === START_OF_SCAN).length;
  if (scans > MOST_SCANS && scans * widthPx * heightPx > MOST_SCANNED_PIXELS) {
    throw new DecodeFault(`The JPEG is damaged: it goes over the picture ${scans} times.`);
  }
  // A picture in several scans is held as coefficients of two bytes until the last of them.
  const held = progressive || scans > 1 ? 2 * components * widthPx * heightPx : 0;
  const frame = segments.find(({ marker }) => marker === BASELINE || marker === EXTENDED);
  const heightAt = frame === undefined || scans !== 1 ? null : frame.start + 1;
  return { width: widthPx, height: heightPx, components, heightAt, workBytes: bytes.length + held };
}

const BASELINE = 0xc0;
const EXTENDED = 0xc1;
const START_OF_SCAN = 0xda;
/** Cameras and programs write one scan, or about ten; each goes over the whole picture. */
const MOST_SCANS = 16;
const MOST_SCANNED_PIXELS = 2e9;

/** @throws DecodeFault when a picture claims more pixels than are decoded */
export function checkSize(widthPx: number, heightPx: number): void {
  if (widthPx * heightPx > MOST_PIXELS) {
    const megapixels = Math.round((widthPx * heightPx) / 1e6);
    throw new DecodeFault(
      `It claims ${widthPx} × ${heightPx} px (${megapixels} megapixels); up to ${MOST_PIXELS / 1e6} are read.`,
    );
  }
}

/** @throws DecodeFault when a picture needs more memory than there is for pictures */
export function checkMemory(bytes: number, room: DecodeRoom): void {
  const most = room.memory.totalBytes;
  if (bytes <= most) return;
  const inMb = (value: number) => Math.ceil(value / 2 ** 20);
  throw new DecodeFault(`Decoding it would take ${inMb(bytes)} MB of memory; up to ${inMb(most)} are used.`);
}

/** @returns the luma as stored, in the room's buffer: valid until the next decode */
export async function jpegLuma(bytes: Buffer, room: DecodeRoom): Promise<Luma8> {
  const size = jpegSize(bytes);
  if (size.components === 4) return lumaOf(await fourInks(bytes, size, room));
  return decode(bytes, size, 1, room);
}

/** @returns the RGB as stored, in the room's buffer: valid until the next decode */
export async function jpegRgb(bytes: Buffer, room: DecodeRoom): Promise<Rgb8> {
  const size = jpegSize(bytes);
  if (size.components === 4) return fourInks(bytes, size, room);
  return decode(bytes, size, 3, room);
}

/** Rows of a JPEG's largest unit. */
const UNIT_ROWS = 32;

/**
 * The first rows of a JPEG only, at the cost of those: what lies below is not decoded. A JPEG in several scans comes
 * whole.
 *
 * @returns the rows as stored, in the room's buffer: valid until the next decode; at least so many, if there are
 */
export async function jpegTop(
  bytes: Buffer,
  channels: 1 | 3,
  rows: number,
  room: DecodeRoom,
): Promise<Luma8 | Rgb8> {
  const size = jpegSize(bytes);
  const height = Math.min(size.height, Math.ceil(rows / UNIT_ROWS) * UNIT_ROWS);
  const { heightAt } = size;
  if (heightAt === null || size.components === 4 || height === size.height) {
    return channels === 1 ? jpegLuma(bytes, room) : jpegRgb(bytes, room);
  }
  // The decoder stops where the header says that the picture ends, and complains of the rest.
  bytes.writeUInt16BE(height, heightAt);
  try {
    return await decode(bytes, { ...size, height }, channels, room, true);
  } finally {
    bytes.writeUInt16BE(size.height, heightAt);
  }
}

async function decode(
  bytes: Buffer,
  size: JpegSize,
  channels: 1 | 3,
  room: DecodeRoom,
  top = false,
): Promise<Luma8> {
  const length = size.width * size.height * channels;
  checkMemory(length + size.workBytes, room);
  return room.memory.hold(length + size.workBytes, async () => {
    const into = roomFor(room, channels === 1 ? 'luma' : 'rgb', length);
    const lastRow = into.subarray(length - size.width * channels, length);
    markRow(lastRow);
    const clean = decodeInto(bytes, size, channels === 1 ? FORMAT_GRAY : FORMAT_RGB, into);
    if (!clean && (isMarked(lastRow) || !top)) await requireHarmless(bytes, isMarked(lastRow));
    return {
      width: size.width,
      height: size.height,
      data: new Uint8Array(into.buffer, into.byteOffset, length),
    };
  });
}

/** @returns false when the decoder complains; it does not say of what, nor whether it went to the end */
function decodeInto(bytes: Buffer, size: PixelSize, format: number, into: Buffer): boolean {
  let found: PixelSize;
  try {
    found = decompressSync(bytes, into, { format });
  } catch {
    return false;
  }
  if (found.width !== size.width || found.height !== size.height) {
    throw new DecodeFault('Its headers give two different sizes.');
  }
  return true;
}

/** Codes that no picture has in a row of its own, to see whether the decoder has come so far. */
function markRow(row: Uint8Array): void {
  for (let i = 0; i < row.length; i += 1) row[i] = (i * 85) & 255;
}

function isMarked(row: Uint8Array): boolean {
  return row.every((code, i) => code === ((i * 85) & 255));
}

/**
 * Asks another decoder, which gives its reason, whether it is harmless: stray bytes between markers leave the picture
 * whole.
 *
 * @throws DecodeFault with the reason when it is not
 */
async function requireHarmless(bytes: Buffer, broken: boolean): Promise<void> {
  try {
    await sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'warning' }).extractChannel(0).stats();
  } catch (error) {
    const stray = error instanceof Error && /extraneous bytes/i.test(error.message);
    if (broken || !stray) throw new DecodeFault(`The JPEG is damaged: ${decoderReason(error)}.`);
  }
  if (broken) throw new DecodeFault('The JPEG is damaged: its picture data break off.');
}

async function fourInks(bytes: Buffer, size: JpegSize, room: DecodeRoom): Promise<Rgb8> {
  const needed = 8 * size.width * size.height + size.workBytes;
  checkMemory(needed, room);
  return room.memory.hold(needed, async () => {
    try {
      const { data, info } = await sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'warning' })
        .toColourspace('srgb')
        .removeAlpha()
        .raw()
        .toBuffer({ resolveWithObject: true });
      return { width: info.width, height: info.height, data };
    } catch (error) {
      throw new DecodeFault(`The JPEG is damaged: ${decoderReason(error)}.`);
    }
  });
}

/** Luma of RGB by the weights of a JPEG's Y (ITU-R BT.601), rounded. */
export function lumaOf(rgb: Rgb8): Luma8 {
  const { width, height, data } = rgb;
  const luma = new Uint8Array(width * height);
  for (let i = 0, at = 0; i < luma.length; i += 1, at += 3) {
    luma[i] = (19595 * data[at]! + 38470 * data[at + 1]! + 7471 * data[at + 2]! + 32768) >> 16;
  }
  return { width, height, data: luma };
}
