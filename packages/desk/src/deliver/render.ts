/** Pixels of a delivery: reduced to fit, converted to sRGB or kept with their profile, written without any tag. */
import { writeFile } from 'node:fs/promises';
import sharp, { type Sharp } from 'sharp';
import { rgb16OfFrame, type OpenFrame } from '../decode/open-frame.ts';
import type { PixelSize, Rgb16 } from '../decode/pixels.ts';
import { writeTags } from './exif-tool.ts';
import { DeskFault } from '../files/faults.ts';

export interface Rendered extends PixelSize {
  /** Name of the profile in the file. */
  readonly profile: string;
}

/** The largest size within a box and within the picture itself: nothing is enlarged. */
export function fitWithin(picture: PixelSize, box: PixelSize): PixelSize {
  const factor = Math.min(1, box.width / picture.width, box.height / picture.height);
  return {
    width: Math.max(1, Math.round(picture.width * factor)),
    height: Math.max(1, Math.round(picture.height * factor)),
  };
}

/** A print's or screen's box, turned where the picture stands the other way. */
export function turnedFor(picture: PixelSize, box: PixelSize): PixelSize {
  const turned = picture.width >= picture.height !== box.width >= box.height;
  return turned ? { width: box.height, height: box.width } : box;
}

/**
 * The picture at a size, as a 16-bit TIFF without profile, its samples unaltered where the size is the picture's own.
 *
 * @param path a temporary file of ours
 */
export async function writeTiff16(path: string, picture: Rgb16, size: PixelSize): Promise<void> {
  const image = raw16(picture);
  const sized = sameSize(picture, size) ? image : image.resize({ ...size, fit: 'fill', kernel: 'lanczos3' });
  await sized.toColourspace('rgb16').tiff({ compression: 'none' }).toFile(path);
}

/**
 * The picture at a size, as 8-bit sRGB.
 *
 * The profile is attached to 8-bit samples first: the library would take 16-bit samples for another space.
 */
async function srgb8(
  picture: Rgb16,
  profile: Uint8Array | null,
  size: PixelSize,
  work: string,
): Promise<Sharp> {
  const sized = sameSize(picture, size)
    ? raw16(picture)
    : raw16(picture).resize({ ...size, fit: 'fill', kernel: 'lanczos3' });
  const { data, info } = await sized
    .toColourspace('rgb16')
    .raw({ depth: 'ushort' })
    .toBuffer({ resolveWithObject: true });
  const wide = new Uint16Array(data.buffer, data.byteOffset, data.length / 2);
  const narrow = new Uint8Array(wide.length);
  for (let i = 0; i < narrow.length; i += 1) narrow[i] = Math.round(wide[i]! / 257);
  const image = sharp(narrow, { raw: { width: info.width, height: info.height, channels: 3 } });
  if (profile === null) return image;
  await image.tiff({ compression: 'none' }).toFile(work);
  await writeFile(`${work}.icc`, profile);
  await writeTags(work, {}, `${work}.icc`);
  return sharp(work, { limitInputPixels: false });
}

const bestQuality = 95;
const leastQuality = 30;

/** The picture as an sRGB JPEG with its profile; the quality found by halving where a size limit is given. */
export async function srgbJpeg(options: {
  readonly picture: Rgb16;
  readonly profile: Uint8Array | null;
  readonly size: PixelSize;
  /** Most bytes of the picture itself; null for no limit. */
  readonly limitBytes: number | null;
  /** A temporary file of ours that may be used and is left behind. */
  readonly work: string;
}): Promise<{ readonly bytes: Buffer; readonly quality: number }> {
  const { picture, profile, size, limitBytes, work } = options;
  const image = await srgb8(picture, profile, size, work);
  const pixels = await image.toColourspace('srgb').raw().toBuffer({ resolveWithObject: true });
  const encode = (quality: number) =>
    sharp(pixels.data, { raw: { width: pixels.info.width, height: pixels.info.height, channels: 3 } })
      .withIccProfile('srgb')
      .jpeg({ quality, chromaSubsampling: quality >= 85 ? '4:4:4' : '4:2:0', mozjpeg: false })
      .toBuffer();
  const best = await encode(bestQuality);
  if (limitBytes === null || best.length <= limitBytes) return { bytes: best, quality: bestQuality };
  let low = leastQuality;
  let high = bestQuality - 1;
  let found: { bytes: Buffer; quality: number } | null = null;
  while (low <= high) {
    const quality = Math.floor((low + high) / 2);
    const bytes = await encode(quality);
    if (bytes.length <= limitBytes) {
      found = { bytes, quality };
      low = quality + 1;
    } else high = quality - 1;
  }
  if (found !== null) return found;
  throw new DeskFault(
    `At ${size.width} × ${size.height} px it does not fit into ${Math.round(limitBytes / 1000)} kB without visible damage; ` +
      'ask for a smaller box or a larger limit.',
  );
}

/** The whole picture in 16 bits, upright, with the bytes of its profile. */
export function pictureToDeliver(frame: OpenFrame) {
  return rgb16OfFrame(frame);
}

function raw16(picture: Rgb16): Sharp {
  // The view alone, not the whole memory behind it.
  const { data, width, height } = picture;
  return sharp(data, { raw: { width, height, channels: 3 } });
}

const sameSize = (a: PixelSize, b: PixelSize) => a.width === b.width && a.height === b.height;
