// A delivered picture holds no byte of the place that its original tells: not as text, not as EXIF's fractions.
import { copyFile, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { deliverPicture, type Delivery } from '../deliver/deliver.ts';
import { endExifTool, writeTags } from '../deliver/exif-tool.ts';
import { openPool, type Pool } from '../measure/pool.ts';

const frame = fileURLToPath(new URL('../../../../demo/invented/frames/MEAD0201.JPG', import.meta.url));
let folder: string;
let pool: Pool;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tepal-privacy-'));
  pool = openPool({ threads: 0 });
});
afterAll(async () => {
  await pool.close();
  await endExifTool();
  await rm(folder, { recursive: true, force: true });
});

const NAME = 'Larkrise Hollow';

/** What would tell the place, as bytes: its name, its numbers, and the first fractions of EXIF's degrees. */
function needlesOf(latitudeDeg: number, longitudeDeg: number): readonly Buffer[] {
  const utf16 = Buffer.from(NAME, 'utf16le');
  const numbers = [latitudeDeg, longitudeDeg].flatMap((x) => {
    const minutes = (x % 1) * 60;
    return [
      x.toFixed(5),
      `${Math.trunc(x)},${minutes.toFixed(3)}`,
      `${Math.trunc(x)}, ${Math.trunc(minutes)}, `,
    ];
  });
  const fractions = [latitudeDeg, longitudeDeg].flatMap((x) =>
    [true, false].map((little) => {
      // Degrees over 1, minutes over 1, one after another.
      const view = new DataView(new ArrayBuffer(16));
      [Math.trunc(x), 1, Math.trunc((x % 1) * 60), 1].forEach((value, i) =>
        view.setUint32(i * 4, value, little),
      );
      return Buffer.from(view.buffer);
    }),
  );
  return [
    Buffer.from(NAME),
    utf16,
    Buffer.from(utf16).swap16(),
    ...numbers.map((text) => Buffer.from(text)),
    ...fractions,
  ];
}

it.each([
  ['photo.jpg', 'screen', 57.123457, 13.654323],
  ['photo.tif', 'print', 51.987653, 21.345677],
] as const)(
  '%s for %s',
  async (output, as, latitudeDeg, longitudeDeg) => {
    const picture = join(folder, `placed-${output}.jpg`);
    await copyFile(frame, picture);
    await writeTags(picture, {
      ...{ 'GPS:GPSLatitude': latitudeDeg, 'GPS:GPSLatitudeRef': 'N', 'GPS:GPSLongitude': longitudeDeg },
      ...{
        'GPS:GPSLongitudeRef': 'E',
        'XMP-exif:GPSLatitude': latitudeDeg,
        'XMP-exif:GPSLongitude': longitudeDeg,
      },
      ...{
        'XMP-iptcExt:LocationShownSublocation': NAME,
        'IPTC:Sub-location': NAME,
        'XMP-photoshop:City': NAME,
      },
    });
    const needles = needlesOf(latitudeDeg, longitudeDeg);
    const before = await readFile(picture);
    // The search finds what it is to find.
    expect(needles.filter((needle) => before.includes(needle)).length).toBeGreaterThanOrEqual(3);
    const wanted: Delivery = {
      ...{ picture, output: join(folder, output), as, replace: false, boxPx: null, sizeMm: null, ppi: 300 },
      ...{ limitKb: null, caption: {}, place: 'none', sensitivity: null, pool },
    };
    await deliverPicture(wanted);
    const bytes = await readFile(join(folder, output));
    expect(needles.filter((needle) => bytes.includes(needle))).toEqual([]);
  },
  60_000,
);
