import { readFileSync } from 'node:fs';
import exifr from 'exifr';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { describeJpeg } from './jpeg.ts';
import { readPhotoMetadata, readPhotoPlace } from './photo-metadata.ts';
import { writeXmp } from './xmp.ts';

const fixture = (name: string) =>
  new Uint8Array(readFileSync(new URL(`../../fixtures/photo/${name}`, import.meta.url)));
const daisy = fixture('oxeye-daisy-cut-off.jpg');
const seed = 20261125;

function metadataOf(bytes: Uint8Array) {
  const read = readPhotoMetadata(bytes);
  if (!read.ok) throw new Error(read.fault.message);
  return { ...read.value, warnings: read.warnings };
}

const ascii = (text: string) => [...text].map((c) => c.charCodeAt(0));
type Tag = readonly [tag: number, type: number, count: number, bytes: readonly number[]];
const long = (value: number) => [value >>> 24, (value >>> 16) & 255, (value >>> 8) & 255, value & 255];
const rational = (tag: number, ...pairs: readonly (readonly [number, number])[]): Tag => [
  tag,
  5,
  pairs.length,
  pairs.flatMap(([over, under]) => [...long(over), ...long(under)]),
];
const text = (tag: number, value: string): Tag => [tag, 2, value.length + 1, [...ascii(value), 0]];

/** A directory, big-endian, at `at`, its long values behind it. */
function directory(at: number, tags: readonly Tag[]): number[] {
  const head = [0, tags.length];
  const values: number[] = [];
  for (const [tag, type, count, bytes] of tags) {
    head.push(tag >> 8, tag & 255, 0, type, ...long(count));
    if (bytes.length <= 4) head.push(...bytes, ...Array<number>(4 - bytes.length).fill(0));
    else {
      head.push(...long(at + 2 + tags.length * 12 + 4 + values.length));
      values.push(...bytes);
    }
  }
  return [...head, 0, 0, 0, 0, ...values];
}

/** A whole, tiny JPEG with these EXIF and GPS tags and this XMP packet. */
function jpegWith(exif: readonly Tag[], gps: readonly Tag[] = [], xmp?: string): Uint8Array {
  const tiff = [...ascii('MM'), 0, 42, ...long(8)];
  const mainLength = 2 + 2 * 12 + 4;
  const exifAt = 8 + mainLength;
  const exifBytes = directory(exifAt, exif);
  const gpsAt = exifAt + exifBytes.length;
  tiff.push(
    ...directory(8, [
      [0x8769, 4, 1, long(exifAt)],
      [0x8825, 4, 1, long(gpsAt)],
    ]),
  );
  tiff.push(...exifBytes, ...directory(gpsAt, gps));
  const segment = (marker: number, bytes: readonly number[]) => {
    const length = bytes.length + 2;
    return [0xff, marker, length >> 8, length & 255, ...bytes];
  };
  const packet =
    xmp === undefined ? [] : [...new TextEncoder().encode(`http://ns.adobe.com/xap/1.0/\0${xmp}`)];
  return Uint8Array.from([
    0xff,
    0xd8,
    ...segment(0xe1, [...ascii('Exif'), 0, 0, ...tiff]),
    ...(xmp === undefined ? [] : segment(0xe1, packet)),
    ...segment(0xc0, [8, 0, 2, 0, 3, 1, 1, 0x11, 0]),
    ...segment(0xda, [1, 1, 0, 0, 63, 0]),
    0x12,
    0xff,
    0xd9,
  ]);
}

describe('what a photograph says of itself', () => {
  it('agrees with another reader of EXIF on a camera’s own file', async () => {
    const theirs = (await exifr.parse(daisy, { tiff: true, exif: true, reviveValues: false })) as Record<
      string,
      unknown
    >;
    const ours = metadataOf(daisy);
    expect(ours).toMatchObject({
      fNumber: theirs['FNumber'],
      exposureTimeS: theirs['ExposureTime'],
      focalLengthMm: theirs['FocalLength'],
      cameraModel: theirs['Model'],
      takenAt: '2004-10-22T20:32:17',
      takenAtHasOffset: false,
      widthPx: 1024,
      heightPx: 768,
      placePresent: false,
    });
    expect(theirs['DateTimeOriginal']).toBe('2004:10:22 20:32:17');
  });

  it('reads a DNG with sub-seconds and an offset', () => {
    expect(metadataOf(fixture('DSC8695.dng'))).toMatchObject({
      kind: 'tiff',
      takenAt: '2026-07-20T22:20:59.43+01:00',
      takenAtHasOffset: true,
      fNumber: 2.8,
      iso: 400,
      focalLengthMm: 70,
    });
  });

  it('names the colour profile', () => {
    expect(metadataOf(fixture('plate-cut-off.jpg')).iccProfileName).toBe('sRGB IEC61966-2.1');
  });

  it('leaves out what cannot be true, and says so', () => {
    const impossible = jpegWith([
      rational(0x829a, [0, 1]),
      rational(0x829d, [0, 10]),
      rational(0x920a, [1_000_000_000, 1]),
      text(0x9003, '2026:13:45 99:00:00'),
    ]);
    const read = metadataOf(impossible);
    expect(read).toMatchObject({ fNumber: null, exposureTimeS: null, focalLengthMm: null, takenAt: null });
    expect(read.warnings).toHaveLength(4);
    expect(read.warnings.join(' ')).toContain('exposure time: found 0 s, which cannot be; left out.');
  });

  it('takes 0/0 and an all-zero date as not said, without a warning', () => {
    const unsaid = jpegWith([rational(0x829d, [0, 0]), text(0x9003, '0000:00:00 00:00:00')]);
    expect(metadataOf(unsaid)).toMatchObject({ fNumber: null, takenAt: null, warnings: [] });
  });

  it('gives the focus distance in millimetres, and none for unknown or infinite', () => {
    expect(metadataOf(jpegWith([rational(0x9206, [45, 100])])).focusDistanceMm).toBe(450);
    expect(metadataOf(jpegWith([rational(0x9206, [0xffffffff, 1])])).focusDistanceMm).toBeNull();
    expect(metadataOf(jpegWith([rational(0x9206, [0, 1])])).focusDistanceMm).toBeNull();
  });

  it('says that there is a place, and gives it only when asked for it (52° 39′ 27.252″, FS G-19)', () => {
    const placed = jpegWith(
      [],
      [
        text(0x0001, 'N'),
        rational(0x0002, [52, 1], [39, 1], [27_252, 1000]),
        text(0x0003, 'W'),
        rational(0x0004, [1, 1], [30, 1], [0, 1]),
      ],
    );
    const read = metadataOf(placed);
    expect(read.placePresent).toBe(true);
    expect(JSON.stringify(read)).not.toMatch(/52|27\.252/);
    const place = readPhotoPlace(placed);
    expect(place.ok && place.value!.latitudeDeg).toBeCloseTo(52.65757, 9);
    expect(place.ok && place.value!.longitudeDeg).toBeCloseTo(-1.5, 12);
    expect(readPhotoPlace(daisy)).toMatchObject({ ok: true, value: null });
  });

  it('gives back the caption that was written as XMP', () => {
    const packet = writeXmp({ title: 'Scabious', creator: ['A. Meadow'], keywords: ['dew'] });
    const read = metadataOf(jpegWith([], [], packet.ok ? packet.value : ''));
    expect(read).toMatchObject({ title: 'Scabious', creator: ['A. Meadow'], keywords: ['dew'] });
  });
});

describe('a broken file', () => {
  it('that breaks off is described, with where it stops', () => {
    const read = describeJpeg(daisy);
    expect(read).toMatchObject({ ok: true, value: { widthPx: 1024, heightPx: 768, complete: false } });
    expect(read.ok && read.warnings[0]).toBe(
      'picture data: the file stops after 24000 bytes without an end marker; it is cut off.',
    );
    expect(describeJpeg(jpegWith([]))).toMatchObject({ ok: true, value: { complete: true }, warnings: [] });
  });

  it.each([
    ['a text named .jpg', new TextEncoder().encode('not a picture'), 'a text'],
    ['nothing', new Uint8Array(0), 'an empty file'],
    [
      'a JPEG without a picture',
      Uint8Array.of(0xff, 0xd8, 0xff, 0xd9),
      'a JPEG that ends after 4 bytes without a picture',
    ],
  ])('%s is refused as what it is', (_name, bytes, found) => {
    expect(describeJpeg(bytes)).toMatchObject({ ok: false, fault: { found } });
  });

  it('with a directory that points at itself comes to an end', () => {
    expect(readPhotoMetadata(fixture('infinite_loop_exif.jpg')).ok).toBe(true);
    expect(readPhotoMetadata(fixture('invalid-encoding-usercomment.jpg')).ok).toBe(true);
    const looping = jpegWith([]);
    const pointer = 12 + 8 + 2 + 8;
    looping.set([0, 0, 0, 8], pointer);
    expect(metadataOf(looping).warnings.join(' ')).toContain('points back to one already read');
  });

  it('never makes the reader throw, whatever the bytes', () => {
    const small = jpegWith([rational(0x829d, [28, 10]), text(0x9003, '2026:06:01 05:00:00')], [text(1, 'N')]);
    for (const base of [small, daisy.slice(0, 6000), fixture('DSC8695.dng').slice(0, 4000)]) {
      const edits = fc.array(fc.tuple(fc.nat(base.length - 1), fc.nat(255)), { maxLength: 12 });
      fc.assert(
        fc.property(edits, fc.nat(base.length), (list, length) => {
          const bytes = base.slice(0, length);
          for (const [at, value] of list) if (at < length) bytes[at] = value;
          readPhotoMetadata(bytes);
          readPhotoPlace(bytes);
        }),
        { seed, numRuns: 300 },
      );
    }
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        readPhotoMetadata(bytes);
      }),
      { seed, numRuns: 200 },
    );
  });
});
