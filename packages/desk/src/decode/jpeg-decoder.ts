/** JPEG to luma or RGB by libjpeg-turbo; a picture that is cut off or damaged is a fault, not a grey half. */
import type * as JpegTurbo from '@julusian/jpeg-turbo';
import { describeJpeg } from '@tepal/formats';
import { createRequire } from 'node:module';
import sharp from 'sharp';
import { reasonOf } from '../files/faults.ts';
import { MOST_PIXELS, type Luma8, type PixelSize, type Rgb8 } from './pixels.ts';

/** The addon is CommonJS made at run time: its names cannot be imported one by one. */
const { decompressSync, FORMAT_GRAY, FORMAT_RGB } = createRequire(import.meta.url)(
  '@julusian/jpeg-turbo',
) as typeof JpegTurbo;

/** Buffers that the next frame may use again, so that memory stays flat however many frames there are. */
export interface DecodeBuffers {
  luma: Buffer;
  rgb: Buffer;
}

export function newDecodeBuffers(): DecodeBuffers {
  return { luma: Buffer.alloc(0), rgb: Buffer.alloc(0) };
}

/** A picture that cannot be decoded, with the reason as a sentence. */
export class DecodeFault extends Error {
  override readonly name = 'DecodeFault';
}

/**
 * The size of a JPEG as stored.
 *
 * @throws DecodeFault when it is no whole JPEG, or larger than is decoded
 */
export function jpegSize(bytes: Uint8Array): PixelSize & { readonly components: number } {
  const described = describeJpeg(bytes);
  if (!described.ok) throw new DecodeFault(`It is no whole JPEG: ${described.fault.message}`);
  const { widthPx, heightPx, complete, components } = described.value;
  checkSize(widthPx, heightPx);
  if (!complete) {
    throw new DecodeFault(
      `The JPEG is cut off: ${described.warnings[0] ?? `it stops after ${bytes.length} bytes.`}`,
    );
  }
  return { width: widthPx, height: heightPx, components };
}

/** @throws DecodeFault when a picture claims more pixels than are decoded */
export function checkSize(widthPx: number, heightPx: number): void {
  if (widthPx * heightPx > MOST_PIXELS) {
    const megapixels = Math.round((widthPx * heightPx) / 1e6);
    throw new DecodeFault(
      `It claims ${widthPx} × ${heightPx} px (${megapixels} megapixels); up to ${MOST_PIXELS / 1e6} are read.`,
    );
  }
}

/** @returns the luma as stored, in `buffers.luma`: valid until the next decode */
export async function jpegLuma(bytes: Buffer, buffers: DecodeBuffers): Promise<Luma8> {
  const size = jpegSize(bytes);
  if (size.components === 4) return lumaOf(await fourInks(bytes));
  return { ...size, data: decode(bytes, size, 1, buffers) };
}

/** @returns the RGB as stored, in `buffers.rgb`: valid until the next decode */
export async function jpegRgb(bytes: Buffer, buffers: DecodeBuffers): Promise<Rgb8> {
  const size = jpegSize(bytes);
  if (size.components === 4) return fourInks(bytes);
  return { ...size, data: decode(bytes, size, 3, buffers) };
}

function decode(bytes: Buffer, size: PixelSize, channels: 1 | 3, buffers: DecodeBuffers): Uint8Array {
  const length = size.width * size.height * channels;
  const which = channels === 1 ? 'luma' : 'rgb';
  if (buffers[which].length < length) buffers[which] = Buffer.allocUnsafeSlow(length);
  const into = buffers[which];
  try {
    const { width, height } = decompressSync(bytes, into, {
      format: channels === 1 ? FORMAT_GRAY : FORMAT_RGB,
    });
    if (width !== size.width || height !== size.height) {
      throw new DecodeFault('Its headers give two different sizes.');
    }
  } catch (error) {
    if (error instanceof DecodeFault) throw error;
    const told = reasonOf(error);
    // The decoder reports stray bytes between markers as an error although the picture is whole in the buffer.
    if (!/extraneous bytes/i.test(told)) throw new DecodeFault(`The JPEG is damaged: ${told}.`);
  }
  return new Uint8Array(into.buffer, into.byteOffset, length);
}

async function fourInks(bytes: Buffer): Promise<Rgb8> {
  try {
    const { data, info } = await sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'warning' })
      .toColourspace('srgb')
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { width: info.width, height: info.height, data };
  } catch (error) {
    throw new DecodeFault(`The JPEG is damaged: ${reasonOf(error)}.`);
  }
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
