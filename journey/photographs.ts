import { copyFile, mkdir, mkdtemp, readdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { exiftool } from 'exiftool-vendored';

const frames = fileURLToPath(new URL('../demo/invented/frames', import.meta.url));

/** What must be found in no byte of a delivered file. Invented, as everything of this outing. */
export const secretPlace = {
  latitudeDeg: 12.345678,
  longitudeDeg: -98.765432,
  city: 'Nether Wallowby',
  sublocation: 'Orchid Bank',
} as const;

/** A card as it comes home: frames of the invented outing, each now also bearing the place it was taken at. */
export async function photographsWithPlace(count: number): Promise<string> {
  const folder = join(await mkdtemp(join(tmpdir(), 'tepal-card-')), 'meadow');
  await mkdir(folder);
  const names = (await readdir(frames)).filter((name) => /\.jpg$/i.test(name)).sort();
  for (const name of names.slice(0, count)) {
    const file = join(folder, name);
    await copyFile(join(frames, name), file);
    await exiftool.write(
      file,
      {
        GPSLatitude: secretPlace.latitudeDeg,
        GPSLatitudeRef: 'N',
        GPSLongitude: secretPlace.longitudeDeg,
        GPSLongitudeRef: 'W',
        City: secretPlace.city,
        Location: secretPlace.sublocation,
      },
      { writeArgs: ['-overwrite_original'] },
    );
  }
  return folder;
}
