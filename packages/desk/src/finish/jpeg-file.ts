/** 8-bit samples as a JPEG: at the best quality, or the best that fits a size. */
import { writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import { DeskFault } from '../files/faults.ts';

const BEST_QUALITY = 95;
const LEAST_QUALITY = 30;

/** From this quality on every pixel keeps its own colour. */
const WHOLE_COLOUR_FROM = 80;

/**
 * Writes a JPEG without tags and without a profile: the samples are written as they are.
 *
 * @param jpeg.limitBytes most bytes; the quality is found by halving
 * @throws DeskFault where it does not fit at the least quality, or the file system's error
 */
export async function encodeJpeg(jpeg: {
  readonly path: string;
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
  readonly limitBytes: number | null;
}): Promise<{ readonly quality: number }> {
  const { path, width, height, data, limitBytes } = jpeg;
  const encode = (quality: number) =>
    sharp(data, { raw: { width, height, channels: 3 } })
      .jpeg({ quality, chromaSubsampling: quality >= WHOLE_COLOUR_FROM ? '4:4:4' : '4:2:0' })
      .toBuffer();
  let quality = BEST_QUALITY;
  let bytes: Uint8Array = await encode(quality);
  if (limitBytes !== null && bytes.length > limitBytes) {
    let found: { quality: number; bytes: Uint8Array } | null = null;
    let low = LEAST_QUALITY;
    let high = BEST_QUALITY - 1;
    while (low <= high) {
      const middle = Math.floor((low + high) / 2);
      const tried = await encode(middle);
      if (tried.length <= limitBytes) {
        found = { quality: middle, bytes: tried };
        low = middle + 1;
      } else high = middle - 1;
    }
    if (found === null) {
      throw new DeskFault(
        `At ${width} × ${height} px it does not fit into ${Math.round(limitBytes / 1000)} kB without visible damage; ` +
          'ask for a smaller box or a larger limit.',
      );
    }
    ({ quality, bytes } = found);
  }
  await writeFile(path, bytes, { flag: 'wx' });
  return { quality };
}
