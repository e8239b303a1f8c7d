/** Pixels as the desk hands them round: typed arrays with an explicit range, after EXIF orientation. */

export interface PixelSize {
  readonly width: number;
  readonly height: number;
}

/** 8-bit encoded luma, 0..255. */
export interface Luma8 extends PixelSize {
  readonly data: Uint8Array;
}

/** Interleaved 8-bit RGB, 0..255 encoded. */
export interface Rgb8 extends PixelSize {
  readonly data: Uint8Array;
}

/** Interleaved 16-bit RGB, 0..65535 encoded. */
export interface Rgb16 extends PixelSize {
  readonly data: Uint16Array;
}

/** Largest picture that is decoded [px]: a few hundred kilobytes can claim to be larger and fill the memory. */
export const MOST_PIXELS = 400_000_000;

/** EXIF orientation, 1 to 8; 1 is upright. */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

export function asOrientation(value: number | null | undefined): Orientation {
  return value !== null && value !== undefined && Number.isInteger(value) && value >= 1 && value <= 8
    ? (value as Orientation)
    : 1;
}

/** Whether width and height change places. */
export function isTurned(orientation: Orientation): boolean {
  return orientation >= 5;
}

/**
 * Pixels as stored, brought upright.
 *
 * @param channels samples of each pixel
 * @returns the same array when nothing is to be done, else a new one
 * @source EXIF 2.32 (CIPA DC-008), tag 0x0112
 */
export function bringUpright<T extends Uint8Array | Uint16Array>(
  stored: PixelSize & { readonly data: T },
  channels: number,
  orientation: Orientation,
): PixelSize & { readonly data: T } {
  if (orientation === 1) return stored;
  const { width, height, data } = stored;
  const turned = isTurned(orientation);
  const outWidth = turned ? height : width;
  const outHeight = turned ? width : height;
  const out = sameKind(data, data.length);
  // Where the stored pixel (0, 0) goes, and the steps of one stored column and one stored row in the new picture.
  const { start, column, row } = steps(orientation, outWidth, outHeight);
  const tile = 64;
  for (let top = 0; top < height; top += tile) {
    for (let left = 0; left < width; left += tile) {
      const bottom = Math.min(height, top + tile);
      const right = Math.min(width, left + tile);
      for (let y = top; y < bottom; y += 1) {
        let from = (y * width + left) * channels;
        let to = (start + y * row + left * column) * channels;
        for (let x = left; x < right; x += 1) {
          for (let c = 0; c < channels; c += 1) out[to + c] = data[from + c]!;
          from += channels;
          to += column * channels;
        }
      }
    }
  }
  return { width: outWidth, height: outHeight, data: out };
}

/** A new array for samples of the same width; a Buffer counts as the bytes that it is. */
function sameKind<T extends Uint8Array | Uint16Array>(of: T, length: number): T {
  return (of instanceof Uint16Array ? new Uint16Array(length) : new Uint8Array(length)) as T;
}

function steps(orientation: Orientation, w: number, h: number) {
  const last = w * h - 1;
  switch (orientation) {
    case 2:
      return { start: w - 1, column: -1, row: w };
    case 3:
      return { start: last, column: -1, row: -w };
    case 4:
      return { start: w * (h - 1), column: 1, row: -w };
    case 5:
      return { start: 0, column: w, row: 1 };
    case 6:
      return { start: w - 1, column: w, row: -1 };
    case 7:
      return { start: last, column: -w, row: -1 };
    case 8:
      return { start: w * (h - 1), column: -w, row: 1 };
    default:
      return { start: 0, column: 1, row: w };
  }
}

/** A rectangle of a picture, px. */
export interface Crop {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A rectangle of the given size round a place, moved to lie inside the picture; smaller only where the picture is. */
export function cropRound(
  size: PixelSize,
  place: { readonly x: number; readonly y: number },
  wanted: PixelSize,
): Crop {
  const width = Math.min(size.width, Math.max(1, Math.round(wanted.width)));
  const height = Math.min(size.height, Math.max(1, Math.round(wanted.height)));
  const left = Math.round(place.x * size.width - width / 2);
  const top = Math.round(place.y * size.height - height / 2);
  return {
    left: Math.min(size.width - width, Math.max(0, left)),
    top: Math.min(size.height - height, Math.max(0, top)),
    width,
    height,
  };
}

/** Copies a rectangle out of a picture. */
export function cutOut<T extends Uint8Array | Uint16Array>(
  picture: PixelSize & { readonly data: T },
  channels: number,
  crop: Crop,
): PixelSize & { readonly data: T } {
  const out = sameKind(picture.data, crop.width * crop.height * channels);
  for (let y = 0; y < crop.height; y += 1) {
    const from = ((crop.top + y) * picture.width + crop.left) * channels;
    out.set(picture.data.subarray(from, from + crop.width * channels) as never, y * crop.width * channels);
  }
  return { width: crop.width, height: crop.height, data: out };
}
