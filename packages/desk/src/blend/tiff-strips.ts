/** A TIFF written strip by strip, so that a large picture never lies in memory beside its file. */
import { open, type FileHandle } from 'node:fs/promises';
import { deflateSync } from 'node:zlib';

/** What is written: rows are handed over on request, top to bottom. */
export interface StripSource {
  readonly width: number;
  readonly height: number;
  /** Samples of each pixel: 3 for RGB, 1 for grey where 0 is black. */
  readonly channels: 1 | 3;
  readonly bitsPerSample: 8 | 16;
  /** Compressed without loss (Deflate), or as it is. */
  readonly deflate: boolean;
  /** @returns rows `first` to `first + count` interleaved; 16-bit samples in this machine's order of bytes */
  rows(first: number, count: number): Uint8Array | Uint16Array;
}

const ROWS_A_STRIP = 64;

const SHORT = 3;
const LONG = 4;

/**
 * Writes a baseline TIFF without profile or other tags, in the order of bytes of this machine.
 *
 * @param path of a file that does not exist yet
 * @throws Error of the file system; RangeError when the file would pass 4 GiB
 * @source TIFF 6.0 (1992), sections 2 to 6; Deflate: Adobe Photoshop TIFF technical notes (2002)
 */
export async function writeTiffStrips(path: string, source: StripSource): Promise<void> {
  const { width, height, channels, bitsPerSample } = source;
  if (width * height * channels * (bitsPerSample / 8) > 0xff00_0000) {
    throw new RangeError('the picture does not fit in a TIFF, which ends at 4 GiB');
  }
  const little = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1;
  const file = await open(path, 'wx');
  try {
    const offsets: number[] = [];
    const lengths: number[] = [];
    let at = 8;
    for (let first = 0; first < height; first += ROWS_A_STRIP) {
      const samples = source.rows(first, Math.min(ROWS_A_STRIP, height - first));
      const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
      const strip = source.deflate ? deflateSync(bytes, { level: 4 }) : bytes;
      await writeWhole(file, strip, at);
      offsets.push(at);
      lengths.push(strip.byteLength);
      at += strip.byteLength + (strip.byteLength % 2);
    }
    const entries: [tag: number, type: typeof SHORT | typeof LONG, values: readonly number[]][] = [
      [256, LONG, [width]],
      [257, LONG, [height]],
      [258, SHORT, Array.from({ length: channels }, () => bitsPerSample)],
      [259, SHORT, [source.deflate ? 8 : 1]],
      [262, SHORT, [channels === 3 ? 2 : 1]],
      [273, LONG, offsets],
      [277, SHORT, [channels]],
      [278, LONG, [ROWS_A_STRIP]],
      [279, LONG, lengths],
      [284, SHORT, [1]],
    ];
    await writeWhole(file, directory(entries, at, little), at);
    const header = new DataView(new ArrayBuffer(8));
    header.setUint16(0, little ? 0x4949 : 0x4d4d);
    header.setUint16(2, 42, little);
    header.setUint32(4, at, little);
    await writeWhole(file, new Uint8Array(header.buffer), 0);
  } finally {
    await file.close();
  }
}

/** The image file directory at this place of the file, with the values that do not fit in an entry behind it. */
function directory(
  entries: readonly (readonly [number, typeof SHORT | typeof LONG, readonly number[]])[],
  at: number,
  little: boolean,
): Uint8Array {
  const size = (type: number) => (type === SHORT ? 2 : 4);
  const outside = entries.reduce((sum, [, type, values]) => sum + values.length * size(type) + 4, 0);
  const view = new DataView(new ArrayBuffer(2 + entries.length * 12 + 4 + outside));
  view.setUint16(0, entries.length, little);
  let behind = 2 + entries.length * 12 + 4;
  entries.forEach(([tag, type, values], i) => {
    const entry = 2 + i * 12;
    view.setUint16(entry, tag, little);
    view.setUint16(entry + 2, type, little);
    view.setUint32(entry + 4, values.length, little);
    let to = entry + 8;
    if (values.length * size(type) > 4) {
      view.setUint32(to, at + behind, little);
      to = behind;
      behind += Math.ceil((values.length * size(type)) / 4) * 4;
    }
    values.forEach((value, k) => {
      if (type === SHORT) view.setUint16(to + k * 2, value, little);
      else view.setUint32(to + k * 4, value, little);
    });
  });
  return new Uint8Array(view.buffer, 0, behind);
}

async function writeWhole(file: FileHandle, bytes: Uint8Array, at: number): Promise<void> {
  for (let done = 0; done < bytes.byteLength;) {
    const { bytesWritten } = await file.write(bytes, done, bytes.byteLength - done, at + done);
    done += bytesWritten;
  }
}
