// Finishing from file to file: the chart within ΔE00 1, originals untouched, faults as sentences.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  deltaE2000,
  RGB_SPACES,
  rgbToXyz,
  xyzToLab,
  apply,
  encodeTransfer,
  type Triple,
} from '@tepal/imaging';
import { fromFile } from 'geotiff';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHART, chartDng } from '../../fixtures/make-dng.ts';
import { endExifTool, readTags } from '../deliver/exif-tool.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import { readSteps } from './done-list.ts';
import { finishFile } from './finish.ts';
import { encodingOf, OUTPUT_SPACES, profileOf } from './spaces.ts';
import { writeTiff16 } from './tiff-file.ts';

let folder: string;
let pool: Pool;
const PATCH = 24;
const steps = { schema: 'tepal/finish-steps/1' } as const;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tepal-finish-'));
  pool = openPool({ threads: 0 });
  await writeFile(join(folder, 'chart.dng'), chartDng(PATCH));
});

afterAll(async () => {
  await pool.close();
  await endExifTool();
  await rm(folder, { recursive: true, force: true });
});

const labOf = (linear: Triple) => {
  const white = apply(rgbToXyz(RGB_SPACES.srgb), [1, 1, 1]);
  return xyzToLab(apply(rgbToXyz(RGB_SPACES.srgb), linear), white);
};
const light = (code: number) => (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4);

/** Linear sRGB of the middles of the patches of a 16-bit TIFF in sRGB, by another library than the one that wrote it. */
async function patchesOf(path: string): Promise<Triple[]> {
  const image = await (await fromFile(path)).getImage();
  const data = (await image.readRasters({ interleave: true })) as Uint16Array;
  const width = image.getWidth();
  const scale = width / (6 * PATCH);
  return CHART.map((_, n) => {
    const x = Math.floor(((n % 6) + 0.5) * PATCH * scale);
    const y = Math.floor((Math.floor(n / 6) + 0.5) * PATCH * scale);
    return [0, 1, 2].map((c) => light(data[3 * (y * width + x) + c]! / 65_535)) as unknown as Triple;
  });
}

describe('a raw of the chart', () => {
  it('is finished within ΔE00 1 of every one of its 24 patches', async () => {
    const output = join(folder, 'chart-finished.tif');
    const before = await readFile(join(folder, 'chart.dng'));
    const document = await finishFile({
      frame: join(folder, 'chart.dng'),
      steps,
      output,
      space: 'srgb',
      replace: false,
      pool,
    });
    expect(document).toMatchObject({ schema: 'tepal/finish/1', profile: 'sRGB IEC61966-2.1', done: [] });
    const found = await patchesOf(output);
    const off = found.map((linear, n) =>
      deltaE2000(labOf(linear), labOf(CHART[n]!.map((code) => light(code / 255)) as unknown as Triple)),
    );
    expect(Math.max(...off)).toBeLessThan(1);
    expect(await readFile(join(folder, 'chart.dng'))).toEqual(before);
    expect((await readdir(folder)).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('has the list of what was done beside it, from which it can be made again, bit by bit', async () => {
    const wished = {
      ...steps,
      exposureStops: -0.5,
      tone: { contrast: 1.2 },
      framing: { crop: { left: 0, top: 0, width: 0.5, height: 1 } },
    };
    const first = join(folder, 'first.tif');
    const document = await finishFile({
      frame: join(folder, 'chart.dng'),
      steps: wished,
      output: first,
      space: 'wide',
      replace: false,
      pool,
    });
    expect(document.done).toEqual([
      'exposure lowered by 0.5 stops',
      'cropped to 50 % of the picture',
      'tones set',
    ]);
    const again = join(folder, 'again.tif');
    await finishFile({
      frame: join(folder, 'chart.dng'),
      steps: await readSteps(document.doneList),
      output: again,
      space: 'wide',
      replace: false,
      pool,
    });
    expect(Buffer.compare(await readFile(first), await readFile(again))).toBe(0);
  });
});

describe('a 16-bit TIFF', () => {
  it('holds its samples and its profile exactly, by two other readers', async () => {
    const [width, height] = [301, 150];
    const data = Uint16Array.from({ length: width * height * 3 }, (_, i) => (i * 40_503) % 65_536);
    const path = join(folder, 'exact.tif');
    await writeTiff16(path, {
      width,
      height,
      profile: profileOf('adobeRgb'),
      rows: (top, bottom) => data.subarray(top * width * 3, bottom * width * 3),
    });
    const image = await (await fromFile(path)).getImage();
    expect(
      Buffer.compare(
        Buffer.from(((await image.readRasters({ interleave: true })) as Uint16Array).buffer),
        Buffer.from(data.buffer),
      ),
    ).toBe(0);
    const { icc, depth } = await sharp(path).metadata();
    expect(depth).toBe('ushort');
    expect(Buffer.compare(icc!, Buffer.from(profileOf('adobeRgb')))).toBe(0);
    expect((await readTags(path))['ICC_Profile:ProfileDescription']).toBe('Adobe RGB (1998)');
  });
});

describe('profiles', () => {
  it('of ours are taken for the spaces that they are', () => {
    for (const name of OUTPUT_SPACES) expect(encodingOf(profileOf(name)).encoding).toBe(RGB_SPACES[name]);
    expect(encodingOf(null).encoding).toBe(RGB_SPACES.srgb);
    expect(encodingOf(new Uint8Array(40)).note).toMatch(/cannot be read .* taken for sRGB/);
  });

  it('of another library for sRGB is taken for sRGB', async () => {
    const pixel = await sharp(Buffer.alloc(3), { raw: { width: 1, height: 1, channels: 3 } })
      .withIccProfile('srgb')
      .png()
      .toBuffer();
    expect(encodingOf((await sharp(pixel).metadata()).icc!).encoding).toBe(RGB_SPACES.srgb);
    expect(encodeTransfer('srgb', 1)).toBeCloseTo(1, 12);
  });
});

describe('faults are sentences', () => {
  const wish = (frame: string, output: string) =>
    finishFile({
      frame: join(folder, frame),
      steps,
      output: join(folder, output),
      space: 'wide',
      replace: false,
      pool,
    });

  it.each([
    ['an output of another kind', 'chart.dng', 'out.jpg', /needs the ending \.tif/],
    ['a frame that is not there', 'nothing.dng', 'out.tif', /cannot be read: there is nothing of that name/],
    ['a folder that is not there', 'chart.dng', 'none/out.tif', /does not exist/],
  ])('%s', async (_name, frame, output, sentence) => {
    await expect(wish(frame, output)).rejects.toThrow(sentence);
  });

  it('a text, a cut-off raw, an output that is there', async () => {
    await writeFile(join(folder, 'text.dng'), 'no raw');
    await writeFile(join(folder, 'cut.dng'), chartDng(PATCH).subarray(0, 3000));
    await writeFile(join(folder, 'there.tif'), 'kept');
    await expect(wish('text.dng', 'a.tif')).rejects.toThrow(/named like a photograph/);
    await expect(wish('cut.dng', 'a.tif')).rejects.toThrow(/cut off|cannot be/);
    await expect(wish('chart.dng', 'there.tif')).rejects.toThrow(/there already/);
    expect(await readFile(join(folder, 'there.tif'), 'utf8')).toBe('kept');
  });

  it('steps that a newer version wrote, or that are wrong', async () => {
    const read = async (json: unknown) => {
      await writeFile(join(folder, 's.json'), typeof json === 'string' ? json : JSON.stringify(json));
      return readSteps(join(folder, 's.json'));
    };
    await expect(read({ schema: 'tepal/finish-steps/9' })).rejects.toThrow(/newer version of Tepal/);
    await expect(read({ ...steps, exposureStops: 99 })).rejects.toThrow(/exposureStops: found 99/);
    await expect(read('{')).rejects.toThrow(/is no JSON/);
    await expect(readSteps(join(folder, 'none.json'))).rejects.toThrow(/nothing of that name/);
  });
});
