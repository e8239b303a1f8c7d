/** The chunks of a PNG file that describe it: size, EXIF, XMP, colour profile. Nothing is decoded. */
import { unzlibSync } from 'fflate';

export interface PngDescription {
  readonly widthPx: number;
  readonly heightPx: number;
  /** From the byte-order mark on; null where there is none. */
  readonly exif: Uint8Array | null;
  readonly xmp: string | null;
  readonly iccProfile: Uint8Array | null;
}

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const MAX_PROFILE_BYTES = 4 * 1024 * 1024;
const XMP_KEYWORD = 'XML:com.adobe.xmp';

export function isPng(bytes: Uint8Array): boolean {
  return SIGNATURE.every((value, i) => bytes[i] === value);
}

/**
 * What a PNG file says of itself.
 *
 * @returns null where it breaks off before its size
 * @source W3C Portable Network Graphics (PNG) Specification, third edition, sections 5 and 11
 */
export function describePng(bytes: Uint8Array): PngDescription | null {
  if (!isPng(bytes) || bytes.length < 33) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let exif: Uint8Array | null = null;
  let xmp: string | null = null;
  let iccProfile: Uint8Array | null = null;
  for (let at = 8; at + 12 <= bytes.length;) {
    const length = view.getUint32(at);
    const end = at + 8 + length;
    if (end > bytes.length) break;
    const type = latin1(bytes.subarray(at + 4, at + 8));
    const data = bytes.subarray(at + 8, end);
    if (type === 'eXIf') exif ??= data;
    if (type === 'iTXt') xmp ??= xmpOf(data);
    if (type === 'iCCP') iccProfile ??= profileOf(data);
    if (type === 'IEND') break;
    at = end + 4;
  }
  return { widthPx: view.getUint32(16), heightPx: view.getUint32(20), exif, xmp, iccProfile };
}

function xmpOf(data: Uint8Array): string | null {
  const keywordEnd = data.indexOf(0);
  if (keywordEnd < 0 || latin1(data.subarray(0, keywordEnd)) !== XMP_KEYWORD) return null;
  // compression flag and method, then a language tag and a translated keyword, each ended by zero
  const languageEnd = data.indexOf(0, keywordEnd + 3);
  const start = languageEnd < 0 ? -1 : data.indexOf(0, languageEnd + 1);
  if (start < 0) return null;
  const packed = data.subarray(start + 1);
  const text = data[keywordEnd + 1] === 1 ? inflated(packed) : packed;
  return text === null ? null : new TextDecoder().decode(text);
}

function profileOf(data: Uint8Array): Uint8Array | null {
  const nameEnd = data.indexOf(0);
  return nameEnd < 0 ? null : inflated(data.subarray(nameEnd + 2));
}

/** Into a buffer of fixed size, so that a small chunk cannot unfold without end. */
function inflated(packed: Uint8Array): Uint8Array | null {
  try {
    return unzlibSync(packed, { out: new Uint8Array(MAX_PROFILE_BYTES) });
  } catch {
    return null;
  }
}

function latin1(bytes: Uint8Array): string {
  return String.fromCharCode(...bytes.subarray(0, 100));
}
