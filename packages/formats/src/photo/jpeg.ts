/** The markers of a JPEG file: its segments, its size, and whether it is whole. Nothing is decoded. */
import { refused, understood, type Result } from '../result.ts';
import { kindOfBytes } from '../text.ts';

export interface JpegSegment {
  /** Second byte of the marker: 0xE1 for APP1. */
  readonly marker: number;
  /** Where the payload begins, after the length [byte]. */
  readonly start: number;
  /** Where it ends [byte]. */
  readonly end: number;
}

export interface JpegDescription {
  /** Size as stored, before EXIF orientation [px]. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bitsPerSample: number;
  /** 1 grey, 3 colour, 4 four inks. */
  readonly components: number;
  readonly progressive: boolean;
  /** Whether the picture data ends as it should; if not, a warning says where it breaks off. */
  readonly complete: boolean;
  readonly segments: readonly JpegSegment[];
}

const SOS = 0xda;
const EOI = 0xd9;
const MAX_SEGMENTS = 10_000;

const isFrame = (marker: number) =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
const standsAlone = (marker: number) => marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8);

/** Whether the bytes begin as a JPEG does. */
export function isJpeg(bytes: Uint8Array): boolean {
  return bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff;
}

/**
 * Every segment up to the end of the picture, scans included, as far as the bytes go.
 *
 * @returns the segments and whether the end marker was reached; a segment that breaks off is left out
 */
export function jpegSegments(bytes: Uint8Array): { segments: JpegSegment[]; complete: boolean } {
  const segments: JpegSegment[] = [];
  let at = 2;
  while (segments.length < MAX_SEGMENTS) {
    at = bytes.indexOf(0xff, at);
    if (at < 0) break;
    while (bytes[at] === 0xff) at += 1;
    const marker = bytes[at];
    if (marker === undefined) break;
    at += 1;
    if (marker === EOI) return { segments, complete: true };
    if (marker === 0 || standsAlone(marker)) continue;
    const length = (bytes[at] ?? 0) * 256 + (bytes[at + 1] ?? 0);
    if (length < 2 || at + length > bytes.length) break;
    segments.push({ marker, start: at + 2, end: at + length });
    at += length;
  }
  return { segments, complete: false };
}

/**
 * What a JPEG file says of itself, without decoding it.
 *
 * @returns refused when the bytes are no JPEG, or break off before the size of the picture; a picture whose data
 *   breaks off later is described with `complete` false and a warning
 * @source ITU-T T.81 (1992), Annex B
 */
export function describeJpeg(bytes: Uint8Array): Result<JpegDescription> {
  if (!isJpeg(bytes)) {
    return refused({ where: 'first bytes', found: kindOfBytes(bytes), accepted: 'a JPEG picture' });
  }
  const { segments, complete } = jpegSegments(bytes);
  const frame = segments.find((segment) => isFrame(segment.marker) && segment.end - segment.start >= 6);
  if (!frame) {
    const found = `a JPEG that ${complete ? 'ends' : 'breaks off'} after ${bytes.length} bytes without a picture`;
    return refused({ where: 'picture', found, accepted: 'a whole JPEG' });
  }
  const byte = (i: number) => bytes[frame.start + i] ?? 0;
  const heightPx = byte(1) * 256 + byte(2);
  const widthPx = byte(3) * 256 + byte(4);
  if (widthPx === 0 || heightPx === 0) {
    return refused({
      where: 'picture size',
      found: `${widthPx} by ${heightPx} px`,
      accepted: 'at least one pixel each way',
    });
  }
  const hasScan = segments.some((segment) => segment.marker === SOS);
  const whole = complete && hasScan;
  const progressive = (frame.marker & 0x03) === 2;
  const ending = hasScan ? 'without an end marker' : 'without picture data';
  return understood(
    {
      widthPx,
      heightPx,
      bitsPerSample: byte(0),
      components: byte(5),
      progressive,
      complete: whole,
      segments,
    },
    whole ? [] : [`picture data: the file stops after ${bytes.length} bytes ${ending}; it is cut off.`],
  );
}
