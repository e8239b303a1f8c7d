/** 16-bit TIFF written strip by strip, samples exactly as given, the profile inside. */
import { open } from 'node:fs/promises';

export interface TiffToWrite {
  readonly width: number;
  readonly height: number;
  readonly profile: Uint8Array;
  /** Interleaved RGB of rows [top, bottom). */
  readonly rows: (top: number, bottom: number) => Uint16Array | Promise<Uint16Array>;
}

/** Rows of a strip: a few megabytes of a large picture. */
const STRIP_ROWS = 64;

const WORD = 3;
const LONG = 4;
const UNDEFINED = 7;

/**
 * Writes the file whole; on a fault what was written is left for the caller to remove.
 *
 * @param path must not exist yet
 * @throws the file system's error
 * @source TIFF 6.0, sections 2 and 6; ICC.1:2022, B.5 (tag 34675)
 */
export async function writeTiff16(path: string, tiff: TiffToWrite): Promise<void> {
  const { width, height, profile } = tiff;
  const strips = Math.ceil(height / STRIP_ROWS);
  const rowBytes = width * 6;
  const sizes = Array.from(
    { length: strips },
    (_, i) => Math.min(STRIP_ROWS, height - i * STRIP_ROWS) * rowBytes,
  );
  const entryCount = 12;
  const directoryBytes = 2 + 12 * entryCount + 4;
  const bitsAt = 8 + directoryBytes;
  const profileAt = bitsAt + 8;
  const offsetsAt = profileAt + Math.ceil(profile.length / 4) * 4;
  const sizesAt = offsetsAt + 4 * strips;
  const dataAt = sizesAt + 4 * strips;
  const head = Buffer.alloc(dataAt);
  head.write('II', 0, 'latin1');
  head.writeUInt16LE(42, 2);
  head.writeUInt32LE(8, 4);
  head.writeUInt16LE(entryCount, 8);
  const entries: readonly (readonly [number, number, number, number])[] = [
    [256, LONG, 1, width],
    [257, LONG, 1, height],
    [258, WORD, 3, bitsAt],
    [259, WORD, 1, 1],
    [262, WORD, 1, 2],
    [273, LONG, strips, strips === 1 ? dataAt : offsetsAt],
    [274, WORD, 1, 1],
    [277, WORD, 1, 3],
    [278, LONG, 1, STRIP_ROWS],
    [279, LONG, strips, strips === 1 ? sizes[0]! : sizesAt],
    [284, WORD, 1, 1],
    [34_675, UNDEFINED, profile.length, profileAt],
  ];
  entries.forEach(([tag, type, count, value], i) => {
    const at = 10 + 12 * i;
    head.writeUInt16LE(tag, at);
    head.writeUInt16LE(type, at + 2);
    head.writeUInt32LE(count, at + 4);
    if (type === WORD && count === 1) head.writeUInt16LE(value, at + 8);
    else head.writeUInt32LE(value, at + 8);
  });
  [16, 16, 16].forEach((bits, i) => head.writeUInt16LE(bits, bitsAt + 2 * i));
  head.set(profile, profileAt);
  let at = dataAt;
  sizes.forEach((size, i) => {
    head.writeUInt32LE(at, offsetsAt + 4 * i);
    head.writeUInt32LE(size, sizesAt + 4 * i);
    at += size;
  });
  const file = await open(path, 'wx');
  try {
    await file.writeFile(head);
    for (let top = 0; top < height; top += STRIP_ROWS) {
      const samples = await tiff.rows(top, Math.min(height, top + STRIP_ROWS));
      await file.writeFile(littleEndian(samples));
    }
    await file.sync();
  } finally {
    await file.close();
  }
}

/** The bytes of samples, the low one first whatever this computer prefers. */
function littleEndian(samples: Uint16Array): Buffer {
  const bytes = Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength);
  return new Uint8Array(Uint16Array.of(1).buffer)[0] === 1 ? bytes : Buffer.from(bytes).swap16();
}
