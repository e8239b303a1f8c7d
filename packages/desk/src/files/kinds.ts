/** What kind of photograph a file is: by its content first, then by its name. Raws are told from TIFF here. */
import { kindOfBytes } from '@tepal/formats';
import { open } from 'node:fs/promises';
import { extname } from 'node:path';

export type PhotographKind = 'jpeg' | 'png' | 'tiff' | 'heif' | 'raw';

export type FileKind =
  | { readonly is: 'photograph'; readonly kind: PhotographKind }
  /** Named like a photograph, but its content is something else. */
  | { readonly is: 'wrong'; readonly reason: string }
  | { readonly is: 'other' };

const named: Readonly<Record<string, PhotographKind>> = Object.fromEntries([
  ...['jpg', 'jpeg', 'jpe'].map((end) => [end, 'jpeg'] as const),
  ['png', 'png'],
  ...['tif', 'tiff'].map((end) => [end, 'tiff'] as const),
  ...['heic', 'heif', 'hif', 'avif'].map((end) => [end, 'heif'] as const),
  ...[
    ...['3fr', 'arw', 'cr2', 'cr3', 'crw', 'dcr', 'dng', 'erf', 'fff', 'iiq', 'kdc', 'mef', 'mos', 'mrw'],
    ...['nef', 'nrw', 'orf', 'pef', 'raf', 'raw', 'rw2', 'rwl', 'sr2', 'srf', 'srw', 'x3f'],
  ].map((end) => [end, 'raw'] as const),
]);

/** The kind that a file's name promises; null where it promises no photograph. */
export function kindByName(name: string): PhotographKind | null {
  return named[extname(name).slice(1).toLowerCase()] ?? null;
}

/**
 * The kind of a file by its first bytes and, where these leave it open, its name.
 *
 * @throws the file system's error when the file cannot be read
 */
export async function kindOfFile(path: string): Promise<FileKind> {
  const file = await open(path, 'r');
  try {
    const head = Buffer.alloc(512);
    const { bytesRead } = await file.read(head, 0, head.length, 0);
    const bytes = head.subarray(0, bytesRead);
    // A camera's thumbnail beside a film or a raw is a JPEG that nobody took.
    if (/\.thm$/i.test(path)) return { is: 'other' };
    const promised = kindByName(path);
    const found = kindByContent(bytes);
    if (found === 'tiffLike') {
      const raw = promised === 'raw' || (await isRawTiff(bytes, file));
      return { is: 'photograph', kind: raw ? 'raw' : 'tiff' };
    }
    if (found !== null) return { is: 'photograph', kind: found };
    if (promised === null) return { is: 'other' };
    const what = bytesRead === 0 ? 'an empty file (0 bytes)' : kindOfBytes(bytes);
    return { is: 'wrong', reason: `It is named like a photograph (${extname(path)}), but it is ${what}.` };
  } finally {
    await file.close();
  }
}

function kindByContent(bytes: Buffer): PhotographKind | 'tiffLike' | null {
  const text = (from: number, to: number) => bytes.toString('latin1', from, to);
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpeg';
  if (text(0, 8) === '\u0089PNG\r\n\u001a\n') return 'png';
  if (text(0, 4) === 'II*\0' || text(0, 4) === 'MM\0*') return 'tiffLike';
  if (['IIRO', 'IIRS', 'MMOR', 'IIU\0', '\0MRM', 'FOVb'].includes(text(0, 4))) return 'raw';
  if (text(0, 15) === 'FUJIFILMCCD-RAW' || text(6, 14) === 'HEAPCCDR') return 'raw';
  if (text(4, 8) === 'ftyp') {
    if (text(8, 12) === 'crx ') return 'raw';
    if (/^(hei[cxms]|hev[cxms]|mif1|msf1|avif)/.test(text(8, 12))) return 'heif';
  }
  return null;
}

const DNG_VERSION = 50706;
const PHOTOMETRIC = 262;
const COLOUR_FILTER_ARRAY = 32803;
const LINEAR_RAW = 34892;

/** Whether the first directory of a TIFF says that it is a raw: a DNG version, Canon's mark, or a mosaic. */
async function isRawTiff(
  head: Buffer,
  file: { read(into: Buffer, offset: number, length: number, at: number): Promise<{ bytesRead: number }> },
): Promise<boolean> {
  if (head.toString('latin1', 8, 10) === 'CR') return true;
  if (head.length < 8) return false;
  const little = head[0] === 0x49;
  const u16 = (from: Buffer, at: number) => (little ? from.readUInt16LE(at) : from.readUInt16BE(at));
  const u32 = (from: Buffer, at: number) => (little ? from.readUInt32LE(at) : from.readUInt32BE(at));
  const directory = Buffer.alloc(2 + 12 * 200);
  const { bytesRead } = await file.read(directory, 0, directory.length, u32(head, 4));
  if (bytesRead < 2) return false;
  const entries = Math.min(u16(directory, 0), Math.floor((bytesRead - 2) / 12));
  for (let i = 0; i < entries; i += 1) {
    const at = 2 + 12 * i;
    const tag = u16(directory, at);
    if (tag === DNG_VERSION) return true;
    const value = u16(directory, at + 8);
    if (tag === PHOTOMETRIC && (value === COLOUR_FILTER_ARRAY || value === LINEAR_RAW)) return true;
  }
  return false;
}
