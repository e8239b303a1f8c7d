/** The pixel arrays that go in and out of this package: x right, y down, origin at the centre of the top-left pixel. */
import { DomainError } from '@tepal/science';

/** 8-bit encoded luma (the Y of a JPEG), row by row, 0..255. */
export interface LumaImage {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** One plane of floating-point samples, row by row; luma in the same 0..255 codes unless said otherwise. */
export interface FloatImage {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** Interleaved RGB, 8 bit, 0..255 encoded. */
export interface Rgb8Image {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Interleaved RGB, 16 bit, 0..65535 encoded. */
export interface Rgb16Image {
  readonly width: number;
  readonly height: number;
  readonly data: Uint16Array;
}

/**
 * Refuses an image whose array does not hold width x height samples of each channel.
 *
 * @throws DomainError naming what was expected
 */
export function checkImage(
  name: string,
  image: { readonly width: number; readonly height: number; readonly data: { readonly length: number } },
  channels: number,
  minimumSidePx = 1,
): void {
  const { width, height, data } = image;
  const whole = Number.isInteger(width) && Number.isInteger(height);
  if (!(whole && width >= minimumSidePx && height >= minimumSidePx)) {
    throw new DomainError(
      'outOfRange',
      `an image of at least ${String(minimumSidePx)} x ${String(minimumSidePx)} px`,
      name,
      `${String(width)} x ${String(height)}`,
    );
  }
  if (data.length !== width * height * channels) {
    throw new DomainError(
      'outOfRange',
      `${String(width * height * channels)} samples of ${String(width)} x ${String(height)} x ${String(channels)}`,
      `${name}.data`,
      `${String(data.length)} samples`,
    );
  }
}

/** @returns the luma as floating point, the same codes */
export function toFloat(luma: LumaImage): FloatImage {
  return { width: luma.width, height: luma.height, data: Float32Array.from(luma.data) };
}
