/**
 * The tag directories (IFDs) of TIFF, which also hold EXIF. Reads within bounds only, each directory once, so that a
 * damaged or looping file comes to an end.
 *
 * @source TIFF 6.0 (1992), section 2; CIPA DC-008 (EXIF 2.32), section 4.6
 */

export type TagValue = string | readonly number[];

/** One directory: tag number to value. Rationals come as numbers; 0/0 and n/0 as NaN and Infinity, to be judged. */
export type TagDirectory = ReadonlyMap<number, TagValue>;

export interface TiffTags {
  readonly main: TagDirectory;
  readonly exif: TagDirectory;
  readonly gps: TagDirectory;
  readonly warnings: readonly string[];
}

const EMPTY: TagDirectory = new Map();
const EXIF_POINTER = 0x8769;
const GPS_POINTER = 0x8825;
const MAX_ENTRIES = 1000;
const MAX_VALUE_BYTES = 8 * 1024 * 1024;
/** Private to one maker, large, and not read here. */
const MAKER_NOTE = 0x927c;

const typeBytes: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  13: 4,
};

/** Whether the bytes begin as TIFF does, or as one of the raw kinds that keep to its directories. */
export function isTiff(bytes: Uint8Array): boolean {
  if (bytes.length < 8) return false;
  const little = bytes[0] === 0x49 && bytes[1] === 0x49;
  const big = bytes[0] === 0x4d && bytes[1] === 0x4d;
  if (!little && !big) return false;
  const magic = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint16(2, little);
  return magic === 42 || magic === 0x4f52 || magic === 0x55;
}

/**
 * The main, EXIF and GPS directories of a TIFF structure.
 *
 * @param bytes from the byte-order mark on
 * @returns empty directories, with a warning, where the structure cannot be followed
 */
export function readTiffTags(bytes: Uint8Array): TiffTags {
  const warnings: string[] = [];
  if (!isTiff(bytes)) {
    return { main: EMPTY, exif: EMPTY, gps: EMPTY, warnings: ['EXIF: its header is damaged; not read.'] };
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const little = bytes[0] === 0x49;
  const visited = new Set<number>();
  const follow = (name: string, offset: number | undefined): TagDirectory => {
    if (offset === undefined) return EMPTY;
    if (visited.has(offset)) {
      warnings.push(`EXIF: the ${name} directory points back to one already read; left out.`);
      return EMPTY;
    }
    visited.add(offset);
    return readDirectory(view, little, offset, name, warnings);
  };
  const pointer = (directory: TagDirectory, tag: number) => {
    const value = directory.get(tag);
    return typeof value === 'string' ? undefined : value?.[0];
  };
  const main = follow('main', view.getUint32(4, little));
  const exif = follow('EXIF', pointer(main, EXIF_POINTER));
  const gps = follow('GPS', pointer(main, GPS_POINTER));
  return { main, exif, gps, warnings };
}

function readDirectory(
  view: DataView,
  little: boolean,
  offset: number,
  name: string,
  warnings: string[],
): TagDirectory {
  if (!Number.isInteger(offset) || offset < 8 || offset + 2 > view.byteLength) {
    warnings.push(`EXIF: the ${name} directory lies outside the file; left out.`);
    return EMPTY;
  }
  const stated = view.getUint16(offset, little);
  const fitting = Math.floor((view.byteLength - offset - 2) / 12);
  const count = Math.min(stated, fitting, MAX_ENTRIES);
  if (count < stated) {
    warnings.push(`EXIF: the ${name} directory names ${stated} tags, of which ${count} could be read.`);
  }
  const tags = new Map<number, TagValue>();
  for (let i = 0; i < count; i += 1) {
    const entry = offset + 2 + i * 12;
    const tag = view.getUint16(entry, little);
    if (tag === MAKER_NOTE || tags.has(tag)) continue;
    const value = readValue(view, little, entry);
    if (value === null) {
      warnings.push(`EXIF: tag ${tag} of the ${name} directory points outside the file; left out.`);
    } else {
      tags.set(tag, value);
    }
  }
  return tags;
}

function readValue(view: DataView, little: boolean, entry: number): TagValue | null {
  const type = view.getUint16(entry + 2, little);
  const count = view.getUint32(entry + 4, little);
  const size = typeBytes[type];
  if (size === undefined) return null;
  const length = size * count;
  const at = length <= 4 ? entry + 8 : view.getUint32(entry + 8, little);
  if (length > MAX_VALUE_BYTES || at + length > view.byteLength) return null;
  if (type === 2) return readAscii(new Uint8Array(view.buffer, view.byteOffset + at, count));
  return Array.from({ length: count }, (_, i) => readNumber(view, little, type, at + i * size));
}

/** EXIF texts are ASCII by the standard and UTF-8 in practice; they end at the first zero byte. */
function readAscii(bytes: Uint8Array): string {
  const end = bytes.indexOf(0);
  return new TextDecoder('utf-8').decode(end < 0 ? bytes : bytes.subarray(0, end)).trim();
}

function readNumber(view: DataView, little: boolean, type: number, at: number): number {
  switch (type) {
    case 3:
      return view.getUint16(at, little);
    case 4:
    case 13:
      return view.getUint32(at, little);
    case 5:
      return view.getUint32(at, little) / view.getUint32(at + 4, little);
    case 6:
      return view.getInt8(at);
    case 8:
      return view.getInt16(at, little);
    case 9:
      return view.getInt32(at, little);
    case 10:
      return view.getInt32(at, little) / view.getInt32(at + 4, little);
    case 11:
      return view.getFloat32(at, little);
    case 12:
      return view.getFloat64(at, little);
    default:
      return view.getUint8(at);
  }
}
