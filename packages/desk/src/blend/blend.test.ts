import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { seeded } from '@tepal/imaging';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { endExifTool } from '../deliver/exif-tool.ts';
import { openKernel } from '../measure/kernel-file.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import { blendWithPlaces, type BlendWish, type PlacedBlend } from './blend.ts';
import { candidatesAt } from './candidates.ts';

const [width, height] = [320, 240];
let folder = '';
let files: string[] = [];
let pool: Pool;
let first: PlacedBlend;

const wish = (output: string): BlendWish => ({
  files,
  reference: files[0]!,
  output: join(folder, output),
  depth: null,
  source: join(folder, `source-${output}`),
  replace: false,
  pool,
  tell: () => undefined,
});

/** Two frames of one texture: the left half sharp in the first, the right half in the second. */
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'blend-'));
  pool = openPool({ threads: 0 });
  const random = seeded(3);
  const coarse = Buffer.from(Uint8Array.from({ length: 80 * 60 * 3 }, () => 40 + random() * 180));
  const scene = await sharp(coarse, { raw: { width: 80, height: 60, channels: 3 } })
    .resize(width, height, { kernel: 'cubic' })
    .png()
    .toBuffer();
  const half = (left: number) =>
    sharp(scene)
      .extract({ left, top: 0, width: width / 2, height })
      .toBuffer();
  files = [join(folder, 'a.png'), join(folder, 'b.png')];
  for (const [i, file] of files.entries()) {
    const left = i === 0 ? 0 : width / 2;
    await sharp(await sharp(scene).blur(3).png().toBuffer())
      .composite([{ input: await half(left), left, top: 0 }])
      .removeAlpha()
      .png()
      .toFile(file);
  }
  first = await blendWithPlaces(wish('first.tif'));
}, 120_000);
afterAll(async () => {
  await pool.close();
  await endExifTool();
  await rm(folder, { recursive: true });
});

/** The share of the second frame among the sources of a square round a place; a lone pixel may lie on a flat spot. */
const secondsShare = async (output: string, x: number, y: number): Promise<number> => {
  const { data } = await sharp(join(folder, `source-${output}`))
    .extract({ left: x - 10, top: y - 10, width: 20, height: 20 })
    .toColourspace('b-w')
    .raw()
    .toBuffer({ resolveWithObject: true });
  return data.reduce((sum, index) => sum + index, 0) / data.length;
};

describe('a blend from files to files', () => {
  it('takes each half from the frame in which it is sharp, and keeps 16 bits', async () => {
    expect(first.document.frames.map(({ used }) => used)).toEqual([true, true]);
    expect(first.document.fallback).toBeNull();
    expect(await secondsShare('first.tif', 60, 120)).toBeLessThan(0.2);
    expect(await secondsShare('first.tif', 260, 120)).toBeGreaterThan(0.8);
    const { depth, width: found, icc } = await sharp(join(folder, 'first.tif')).metadata();
    expect([depth, found]).toEqual(['ushort', width]);
    expect(icc).toBeDefined();
  });

  it('shows the sharper frame first at a touched place', async () => {
    const { candidates, unread } = await candidatesAt(
      await openKernel(),
      {
        frames: files.map((path, index) => ({ path, kind: 'png', index, place: first.places.get(path)! })),
        widthPx: first.widthPx,
        heightPx: first.heightPx,
        ...{ x: 260, y: 120, radiusPx: 24 },
      },
      () => undefined,
    );
    expect(unread).toEqual([]);
    expect(candidates.map(({ index }) => index)).toEqual([1, 0]);
    expect(candidates[0]?.rgb).toHaveLength(73 * 73 * 3);
  });

  it('is blended again with a place from the other frame, without registering', async () => {
    const choices = [{ file: files[0]!, x: 260, y: 120, radiusPx: 24 }];
    const again = await blendWithPlaces({ ...wish('again.tif'), choices, places: first.places });
    expect(await secondsShare('again.tif', 260, 120)).toBe(0);
    expect(await secondsShare('again.tif', 260, 30)).toBeGreaterThan(0.8);
    expect(again.document.frames[1]?.shiftPx).toEqual(first.document.frames[1]?.shiftPx);
  });

  it('refuses a place from a frame that is not there', async () => {
    const choices = [{ file: join(folder, 'c.png'), x: 1, y: 1, radiusPx: 9 }];
    await expect(blendWithPlaces({ ...wish('none.tif'), choices })).rejects.toThrow(/not among the frames/);
  });
});
