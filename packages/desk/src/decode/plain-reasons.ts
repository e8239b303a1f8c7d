/** What decoders say of a file that they cannot decode, in the photographer's words. */
import { reasonOf } from '../files/faults.ts';

/** First match counts; a decoder's own words never reach the user. */
const reasons: readonly (readonly [RegExp, string])[] = [
  [/pixel limit|dimension|too large|too wide|too high/i, 'it claims more pixels than are read'],
  [/memory|alloc/i, 'it asks for more memory than there is'],
  [
    /unsupported image format|unable to open|not a known/i,
    'its first bytes are not those of a whole JPEG, PNG, TIFF or HEIF picture',
  ],
  [
    /seek|not enough data|read error|premature|unexpected end|truncated|end of (file|stream)/i,
    'it refers to data beyond its end, so it is cut off or damaged; a whole file is needed',
  ],
  [/extraneous|bytes before marker/i, 'there are bytes in it that belong to no part of a picture'],
  [
    /quantization|huffman|\bSO[FSI]\b|adobe|sampling|component/i,
    'the tables that its picture is decoded by are damaged',
  ],
  [/code not yet|lzw|zlib|inflate|deflate|crc|idat|corrupt/i, 'its compressed data are damaged'],
  [/warning treated|\btag\b|directory|field|header/i, 'its headers contradict themselves or are damaged'],
];

/** @returns a clause without a full stop */
export function decoderReason(error: unknown): string {
  // A fault of the file system has words of its own.
  if (error instanceof Error && 'code' in error) return reasonOf(error);
  const said = error instanceof Error ? error.message : '';
  return reasons.find(([pattern]) => pattern.test(said))?.[1] ?? 'its data are damaged';
}
