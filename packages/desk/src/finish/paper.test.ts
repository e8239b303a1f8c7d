// Papers: tables read as another colour engine reads them, prints in a printer's own colours, and what it cannot show.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readIccProfile } from '@tepal/formats';
import {
  apply,
  decodeRendered,
  deltaE2000,
  invert,
  PROFILE_WHITE,
  profileToXyz,
  RGB_SPACES,
  rgbToProfileXyz,
  softProof,
  xyzToLab,
  type ProfileColours,
  type Triple,
} from '@tepal/imaging';
import { fromFile } from 'geotiff';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHART, chartDng } from '../../fixtures/make-dng.ts';
import { makePrinterProfile } from '../../fixtures/make-printer-profile.ts';
import { deliverPicture } from '../deliver/deliver.ts';
import { endExifTool } from '../deliver/exif-tool.ts';
import { openPool, type Pool } from '../measure/pool.ts';

let folder: string;
let pool: Pool;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tepal-paper-'));
  pool = openPool({ threads: 0 });
});
afterAll(async () => {
  await pool.close();
  await endExifTool();
  await rm(folder, { recursive: true, force: true });
});

const coloursOf = (bytes: Uint8Array): ProfileColours => {
  const read = readIccProfile(bytes);
  if (!read.ok) throw new Error(read.fault.message);
  return read.value.colours;
};
const light = (v: number) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
const labOfSrgb = (codes: ArrayLike<number>) =>
  xyzToLab(
    apply(
      rgbToProfileXyz(RGB_SPACES.srgb),
      [0, 1, 2].map((c) => light(codes[c]! / 255)) as unknown as Triple,
    ),
    PROFILE_WHITE,
  );

describe('tables', () => {
  it('of a press lead back to the colours that another engine put into its inks', async () => {
    // Muted colours, well within what the press shows.
    const muted = [
      [150, 120, 110],
      [120, 130, 110],
      [110, 115, 135],
      [170, 170, 168],
      [95, 90, 88],
      [140, 125, 100],
    ];
    const path = join(folder, 'press.tif');
    await sharp(Buffer.from(muted.flat()), { raw: { width: muted.length, height: 1, channels: 3 } })
      .withIccProfile('cmyk')
      .tiff({ compression: 'none' })
      .toFile(path);
    const { icc } = await sharp(path).metadata();
    const inks = (await (
      await (await fromFile(path)).getImage()
    ).readRasters({ interleave: true })) as Uint8Array;
    expect(inks.length).toBe(4 * muted.length);
    const press = coloursOf(icc!);
    muted.forEach((codes, n) => {
      const device = [...inks.subarray(4 * n, 4 * n + 4)].map((v) => v / 255);
      const ours = xyzToLab(profileToXyz(press, device), PROFILE_WHITE);
      // 5: the other engine goes there by the perceptual table, which makes room for what the press cannot show.
      expect(deltaE2000(ours, labOfSrgb(codes)), `colour ${n}`).toBeLessThan(5);
    });
  });

  it('of a paper made of sRGB take its colours there and back', () => {
    const paper = coloursOf(makePrinterProfile());
    for (const codes of CHART) {
      const found = xyzToLab(
        profileToXyz(
          paper,
          codes.map((v) => v / 255),
        ),
        PROFILE_WHITE,
      );
      // Half the sag of straight lines over a sixteenth of the curve.
      expect(deltaE2000(found, labOfSrgb(codes))).toBeLessThan(1.5);
    }
  });
});

describe('a print in the colours of its paper', () => {
  it('looks like the chart to another engine that reads the profile in it', async () => {
    await writeFile(join(folder, 'chart.dng'), chartDng(24));
    await writeFile(join(folder, 'paper.icc'), makePrinterProfile());
    const document = await deliverPicture({
      ...{
        picture: join(folder, 'chart.dng'),
        output: join(folder, 'print.jpg'),
        as: 'print',
        replace: false,
      },
      ...{
        boxPx: null,
        sizeMm: null,
        ppi: 300,
        limitKb: null,
        caption: {},
        place: 'none',
        sensitivity: 'none',
      },
      ...{ printerProfile: join(folder, 'paper.icc'), pool },
    });
    expect(document.profile).toBe('Made paper');
    const { data, info } = await sharp(document.output)
      .toColourspace('srgb')
      .raw()
      .toBuffer({ resolveWithObject: true });
    CHART.forEach((codes, n) => {
      const i =
        3 * (Math.floor((Math.floor(n / 6) + 0.5) * 24) * info.width + Math.floor(((n % 6) + 0.5) * 24));
      expect(deltaE2000(labOfSrgb(data.subarray(i)), labOfSrgb(codes)), `patch ${n + 1}`).toBeLessThan(3);
    });
  });

  it('is refused by a profile that is none, or has no way to the paper', async () => {
    await writeFile(join(folder, 'none.icc'), 'no profile at all');
    const wish = (printerProfile: string) =>
      deliverPicture({
        ...{
          picture: join(folder, 'chart.dng'),
          output: join(folder, 'no.jpg'),
          as: 'print',
          replace: false,
        },
        ...{
          boxPx: null,
          sizeMm: null,
          ppi: 300,
          limitKb: null,
          caption: {},
          place: 'none',
          sensitivity: 'none',
        },
        ...{ printerProfile, pool },
      });
    await expect(wish(join(folder, 'none.icc'))).rejects.toThrow(/printer's profile cannot be used/);
    await expect(wish(join(folder, 'nowhere.icc'))).rejects.toThrow(/nothing of that name/);
  });
});

describe('a soft proof', () => {
  it('warns of the colours that a paper cannot show, and of no others', () => {
    // Left half within sRGB, right half a red of Display P3 beyond it.
    const data = Uint16Array.from({ length: 8 * 4 * 3 }, (_, i) =>
      Math.floor(i / 3) % 8 < 4 ? 30_000 : i % 3 === 0 ? 65_535 : 0,
    );
    const picture = decodeRendered({ width: 8, height: 4, data }, RGB_SPACES.displayP3);
    const proof = softProof(picture, coloursOf(makePrinterProfile()));
    expect(proof.share).toBe(0.5);
    proof.warnings.forEach((warning, i) => expect(warning).toBe(i % 8 < 4 ? 0 : 1));
    expect(proof.worst).toBeGreaterThan(3);
    expect(apply(invert(rgbToProfileXyz(RGB_SPACES.srgb)), PROFILE_WHITE)[0]).toBeCloseTo(1, 3);
  });
});
