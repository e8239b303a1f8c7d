/** Bytes as text and as JSON, with the encodings that files of this trade come in. */
import { refused, understood, type Result } from './result.ts';

/**
 * Bytes as text: by a byte order mark, else by the encoding named, else as UTF-8. What is not valid becomes U+FFFD.
 *
 * @param encoding a label of the WHATWG Encoding standard ("windows-1252"); an unknown one counts as UTF-8
 */
export function decodeText(bytes: Uint8Array, encoding = 'utf-8'): string {
  let label = encoding;
  if (bytes[0] === 0xfe && bytes[1] === 0xff) label = 'utf-16be';
  else if (bytes[0] === 0xff && bytes[1] === 0xfe) label = 'utf-16le';
  else if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) label = 'utf-8';
  return decoderFor(label).decode(bytes);
}

function decoderFor(label: string): TextDecoder {
  try {
    return new TextDecoder(label);
  } catch {
    return new TextDecoder('utf-8');
  }
}

/** A text as JSON, or a fault saying that it is cut off or damaged. */
export function parseJson(text: string, where: string): Result<unknown> {
  try {
    return understood(JSON.parse(text) as unknown);
  } catch {
    const last = text.trimEnd().at(-1);
    const cut = last !== '}' && last !== ']';
    return refused({
      where,
      found: cut ? 'JSON that breaks off before its end' : 'JSON with a damaged part',
      accepted: 'a whole JSON document',
    });
  }
}

/** A member of a JSON object; undefined where the value is no object or has no such member of its own. */
export function member(value: unknown, ...path: readonly string[]): unknown {
  let at = value;
  for (const key of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, key)) return undefined;
    at = (at as Record<string, unknown>)[key];
  }
  return at;
}

/** What kind of file the bytes look like, in words, by their first bytes. */
export function kindOfBytes(bytes: Uint8Array): string {
  const starts = (...values: readonly number[]) => values.every((value, i) => bytes[i] === value);
  if (bytes.length === 0) return 'an empty file';
  if (starts(0xff, 0xd8, 0xff)) return 'a JPEG picture';
  if (starts(0x89, 0x50, 0x4e, 0x47)) return 'a PNG picture';
  if (starts(0x49, 0x49, 0x2a, 0) || starts(0x4d, 0x4d, 0, 0x2a)) return 'a TIFF picture or a raw file';
  if (starts(0x50, 0x4b, 3, 4) || starts(0x50, 0x4b, 5, 6)) return 'a zip archive';
  if (starts(0x1f, 0x8b)) return 'a gzip file';
  if (starts(0x25, 0x50, 0x44, 0x46)) return 'a PDF document';
  if (bytes[4] === 0x66 && bytes[5] === 0x74 && bytes[6] === 0x79 && bytes[7] === 0x70) {
    return 'an HEIF picture or a film';
  }
  return bytes.subarray(0, 512).includes(0) ? 'a binary file of a kind not known here' : kindOfText(bytes);
}

function kindOfText(bytes: Uint8Array): string {
  const text = decodeText(bytes.subarray(0, 512)).trimStart();
  if (text === '') return 'an empty text';
  if (/^<(!doctype html|html)/i.test(text)) return 'a web page';
  if (text.startsWith('<')) return 'an XML document';
  if (/^[{[]/.test(text)) return 'a JSON document';
  return 'a text';
}
