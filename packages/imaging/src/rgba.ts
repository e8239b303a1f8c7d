/** Pixels as a page's canvas hands them out (red, green, blue, opacity) in the forms that the measures take. */
import type { LumaImage, Rgb8Image } from './image.ts';
import { checkImage } from './image.ts';

/** Interleaved RGB and opacity, 8 bit, 0..255 encoded; the opacity is passed over. */
export interface Rgba8Image {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray | Uint8Array;
}

/**
 * The luma of every pixel, as a JPEG holds it.
 *
 *   Y = 0.299 R + 0.587 G + 0.114 B, rounded
 *
 * @throws DomainError if the image is malformed
 * @source ITU-T T.871 (2011), section 7
 */
export function lumaOfRgba(image: Rgba8Image): LumaImage {
  checkImage('image', image, 4);
  const { width, height, data } = image;
  const out = new Uint8Array(width * height);
  // In 65536ths; the three add up to one.
  for (let i = 0, at = 0; i < out.length; i++, at += 4) {
    out[i] = (19_595 * data[at]! + 38_470 * data[at + 1]! + 7471 * data[at + 2]! + 32_768) >> 16;
  }
  return { width, height, data: out };
}

/**
 * A rectangle of the picture without its opacity, cut off at the borders.
 *
 * @param box left, top, width, height [px]
 * @throws DomainError if the image is malformed or nothing of it lies in the box
 */
export function cropOfRgba(
  image: Rgba8Image,
  box: { readonly left: number; readonly top: number; readonly width: number; readonly height: number },
): Rgb8Image {
  checkImage('image', image, 4);
  const left = Math.max(0, Math.round(box.left));
  const top = Math.max(0, Math.round(box.top));
  const width = Math.min(image.width, Math.round(box.left + box.width)) - left;
  const height = Math.min(image.height, Math.round(box.top + box.height)) - top;
  const data = new Uint8Array(Math.max(0, width) * Math.max(0, height) * 3);
  for (let y = 0, to = 0; y < height; y++) {
    for (let at = ((top + y) * image.width + left) * 4, x = 0; x < width; x++, at += 4) {
      data[to++] = image.data[at]!;
      data[to++] = image.data[at + 1]!;
      data[to++] = image.data[at + 2]!;
    }
  }
  const crop = { width, height, data };
  checkImage('box', crop, 3);
  return crop;
}
