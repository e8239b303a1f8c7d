/**
 * What a photograph says of itself: when, with what settings, in what words. JPEG, PNG, TIFF and the raw kinds that
 * keep to TIFF's directories. Serial numbers are not read; a place only by `readPhotoPlace`.
 */
import { refused, understood, type Result } from '../result.ts';
import { kindOfBytes } from '../text.ts';
import { readExifFields, readExifPlace, type ExifFields, type PhotoPlace } from './exif.ts';
import { iccProfileName } from './icc-profile-name.ts';
import { describeJpeg, isJpeg, jpegSegments, type JpegSegment } from './jpeg.ts';
import { describePng, isPng } from './png.ts';
import { isTiff, readTiffTags, type TiffTags } from './tiff-tags.ts';
import { readXmp, type XmpFields } from './xmp.ts';

export interface PhotoMetadata
  extends
    Omit<ExifFields, 'creator' | 'statedWidthPx' | 'statedHeightPx'>,
    Pick<XmpFields, 'title' | 'keywords' | 'rating' | 'label'> {
  readonly kind: 'jpeg' | 'png' | 'tiff';
  /** Size as stored, before orientation [px]; null where the file does not say. */
  readonly widthPx: number | null;
  readonly heightPx: number | null;
  readonly creator: readonly string[];
  /** Name of the colour profile in the file; null where there is none. */
  readonly iccProfileName: string | null;
  /** Whether the file holds a place of any kind, as coordinates or in words. */
  readonly placePresent: boolean;
}

/** The parts of a file that hold what it says of itself. */
interface Parts {
  readonly kind: PhotoMetadata['kind'];
  readonly widthPx: number | null;
  readonly heightPx: number | null;
  readonly tags: TiffTags | null;
  readonly xmp: string | null;
  readonly profile: Uint8Array | null;
  readonly warnings: readonly string[];
}

/**
 * What a photograph says of itself. Where EXIF and XMP speak of the same thing, words come from XMP and numbers from
 * EXIF. What is damaged is left out with a warning; the rest is read.
 *
 * @returns refused only when the bytes are no picture of a kind read here
 */
export function readPhotoMetadata(bytes: Uint8Array): Result<PhotoMetadata> {
  const parts = partsOf(bytes);
  if (!parts.ok) return parts;
  const { kind, tags, xmp, profile } = parts.value;
  const warnings = [...parts.value.warnings];
  const exif = readExifFields(tags ?? { main: new Map(), exif: new Map(), gps: new Map(), warnings: [] });
  warnings.push(...exif.warnings);
  const words = xmp === null ? null : readXmp(xmp);
  if (words !== null && !words.ok) warnings.push(words.fault.message);
  const said = words?.ok ? words.value : null;
  const { creator, statedWidthPx, statedHeightPx, ...fields } = exif.fields;
  const focusM = said?.focusDistanceM ?? null;
  return understood(
    {
      ...fields,
      kind,
      widthPx: parts.value.widthPx ?? statedWidthPx,
      heightPx: parts.value.heightPx ?? statedHeightPx,
      focusDistanceMm: fields.focusDistanceMm ?? (focusM === null ? null : focusM * 1000),
      lens: fields.lens ?? said?.lens ?? null,
      title: said?.title ?? null,
      description: said?.description ?? fields.description,
      creator: said !== null && said.creator.length > 0 ? said.creator : creator === null ? [] : [creator],
      rights: said?.rights ?? fields.rights,
      keywords: said?.keywords ?? [],
      rating: said?.rating ?? null,
      label: said?.label ?? null,
      iccProfileName: profile === null ? null : iccProfileName(profile),
      placePresent: fields.placePresent || (said?.placeProperties.length ?? 0) > 0,
    },
    warnings,
  );
}

/**
 * Where the photograph says it was taken, as exact as the file has it. Apart from the rest, because a place is secret
 * until it is released.
 *
 * @returns null where the EXIF tags hold no position
 */
export function readPhotoPlace(bytes: Uint8Array): Result<PhotoPlace | null> {
  const parts = partsOf(bytes);
  if (!parts.ok) return parts;
  const { tags } = parts.value;
  return understood(tags === null ? null : readExifPlace(tags.gps), tags?.warnings ?? []);
}

function partsOf(bytes: Uint8Array): Result<Parts> {
  if (isJpeg(bytes)) return understood(jpegParts(bytes));
  if (isTiff(bytes)) return understood(tiffParts(bytes));
  const png = isPng(bytes) ? describePng(bytes) : null;
  if (png !== null) {
    const tags = png.exif === null ? null : readTiffTags(png.exif);
    const { widthPx, heightPx, xmp, iccProfile } = png;
    return understood({ kind: 'png', widthPx, heightPx, tags, xmp, profile: iccProfile, warnings: [] });
  }
  return refused({
    where: 'picture',
    found: kindOfBytes(bytes),
    accepted: 'a whole JPEG, PNG or TIFF, or a raw file built on TIFF',
  });
}

const APP1 = 0xe1;
const APP2 = 0xe2;
const EXIF_HEADER = 'Exif\0\0';
const XMP_HEADER = 'http://ns.adobe.com/xap/1.0/\0';
const ICC_HEADER = 'ICC_PROFILE\0';

function jpegParts(bytes: Uint8Array): Parts {
  const described = describeJpeg(bytes);
  const { segments } = described.ok ? described.value : jpegSegments(bytes);
  const payloads = (marker: number, header: string) =>
    segments
      .filter((segment) => segment.marker === marker && startsWith(bytes, segment, header))
      .map((segment) => bytes.subarray(segment.start + header.length, segment.end));
  const exif = payloads(APP1, EXIF_HEADER)[0];
  const xmp = payloads(APP1, XMP_HEADER)[0];
  return {
    kind: 'jpeg',
    widthPx: described.ok ? described.value.widthPx : null,
    heightPx: described.ok ? described.value.heightPx : null,
    tags: exif === undefined ? null : readTiffTags(exif),
    xmp: xmp === undefined ? null : new TextDecoder().decode(xmp),
    profile: joinProfile(payloads(APP2, ICC_HEADER)),
    warnings: described.ok ? described.warnings : [described.fault.message],
  };
}

function startsWith(bytes: Uint8Array, segment: JpegSegment, header: string): boolean {
  if (segment.end - segment.start < header.length) return false;
  for (let i = 0; i < header.length; i += 1) {
    if (bytes[segment.start + i] !== header.charCodeAt(i)) return false;
  }
  return true;
}

/** The pieces of a profile, each led by its number and how many there are. */
function joinProfile(pieces: readonly Uint8Array[]): Uint8Array | null {
  if (pieces.length === 0) return null;
  const ordered = [...pieces].sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0)).map((piece) => piece.subarray(2));
  const joined = new Uint8Array(ordered.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of ordered) {
    joined.set(piece, at);
    at += piece.length;
  }
  return joined;
}

const XMP_TAG = 0x02bc;
const ICC_TAG = 0x8773;
const SUBFILE_TAG = 0x00fe;

function tiffParts(bytes: Uint8Array): Parts {
  const tags = readTiffTags(bytes);
  const blob = (tag: number) => {
    const value = tags.main.get(tag);
    return value === undefined || typeof value === 'string' ? null : Uint8Array.from(value);
  };
  const size = (tag: number) => {
    const value = tags.main.get(tag);
    // In a raw file the first directory may hold the reduced picture; then the EXIF size is the one to trust.
    const reduced = tags.main.get(SUBFILE_TAG)?.[0] === 1;
    return value === undefined || typeof value === 'string' || reduced ? null : (value[0] ?? null);
  };
  const xmp = blob(XMP_TAG);
  return {
    kind: 'tiff',
    widthPx: size(0x0100),
    heightPx: size(0x0101),
    tags,
    xmp: xmp === null ? null : new TextDecoder().decode(xmp),
    profile: blob(ICC_TAG),
    warnings: [],
  };
}
