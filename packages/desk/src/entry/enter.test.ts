// An entry from its file to its folder: names, rules, proof, what was entered before.
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chartDng } from '../../fixtures/make-dng.ts';
import { contactSheet } from '../deliver/contact-sheet.ts';
import { endExifTool, readTags } from '../deliver/exif-tool.ts';
import { finishFile } from '../finish/finish.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import { enterPictures } from './enter.ts';

const frame = fileURLToPath(new URL('../../../../demo/invented/frames/MEAD0201.JPG', import.meta.url));
let folder: string;
let pool: Pool;
const at = (...names: string[]) => join(folder, ...names);
const NOW = Date.UTC(2026, 3, 1);

const entry = {
  schema: 'tepal/entry/1',
  name: 'Spring salon',
  creator: 'A. Ørn',
  deadline: '2026-05-01T23:59:00+01:00',
  rules: {
    ...{ schema: 'tepal/rule-set/1', name: 'Salon', format: 'jpeg', colourSpace: 'srgb', mostKilobytes: 500 },
    pixels: { withinBox: { width: 100, height: 100 } },
    fileName: { form: '{number}_{title}', space: '-', characters: 'ascii' },
    whatMayBeDone: { objectRemoved: 'no', tone: 'declare' },
    everythingElse: 'yes',
    originalAsProof: true,
  },
  pictures: [
    { picture: 'finished/chart.tif', title: 'Größe im Gras' },
    { picture: 'loose.jpg', title: 'Loose' },
    {
      picture: 'loose.jpg',
      title: 'Removed',
      original: 'raws/chart.dng',
      deeds: [{ deed: 'objectRemoved', words: 'a stalk removed' }],
    },
  ],
};

const enter = (json: unknown, more: { nowMs?: number } = {}) =>
  writeFile(at('entry.json'), JSON.stringify(json)).then(() =>
    enterPictures({
      ...{
        file: at('entry.json'),
        folder: at('out'),
        remembered: at('before.json'),
        originalsIn: [at('raws')],
      },
      ...{ nowMs: NOW, pool, ...more },
    }),
  );

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tepal-enter-'));
  pool = openPool({ threads: 0 });
  for (const name of ['raws', 'finished', 'out']) await mkdir(at(name));
  await writeFile(at('raws', 'chart.dng'), chartDng(24));
  await copyFile(frame, at('loose.jpg'));
  await finishFile({
    ...{
      frame: at('raws', 'chart.dng'),
      output: at('finished', 'chart.tif'),
      space: 'wide',
      replace: false,
      pool,
    },
    steps: { schema: 'tepal/finish-steps/1', tone: { contrast: 1.1 } },
  });
});

afterAll(async () => {
  await pool.close();
  await endExifTool();
  await rm(folder, { recursive: true, force: true });
});

describe('an entry', () => {
  it('writes names and folder, the originals as proof, and says why a picture is refused', async () => {
    const entered = await enter(entry);
    const [first, loose, removed] = entered.pictures;
    expect(first).toMatchObject({
      output: at('out', 'Spring salon', '01_Grosse-im-Gras.jpg'),
      done: 'tones set',
      why: null,
    });
    expect(await readFile(first!.proof!)).toEqual(await readFile(at('raws', 'chart.dng')));
    expect(first!.checks.map(({ why }) => why).join(' ')).toMatch(/To be declared: tones set/);
    const { width, height } = await sharp(first!.output!).metadata();
    expect(Math.max(width, height)).toBe(100);
    expect((await readTags(first!.output!))['XMP-dc:Title']).toBe('Größe im Gras');
    expect(loose).toMatchObject({
      output: null,
      why: expect.stringMatching(/say what was done.*|original is asked for/) as string,
    });
    expect(removed).toMatchObject({
      output: null,
      why: expect.stringMatching(/do not allow removing something of the scene/) as string,
    });
    expect((await readdir(at('out', 'Spring salon'))).sort()).toEqual([
      '01_Grosse-im-Gras.jpg',
      'entered.json',
      'originals',
    ]);
    expect(entered.deadline).toMatch(/30 days are left/);
  });

  it('warns where a picture was entered before, even as another file of the same original', async () => {
    const again = {
      ...entry,
      name: 'Summer salon',
      pictures: [{ picture: 'raws/chart.dng', title: 'Chart' }],
    };
    const [picture] = (await enter(again)).pictures;
    expect(picture?.warnings.join(' ')).toMatch(/entered before: Spring salon as "Größe im Gras"/);
    expect((await enter(entry)).pictures[0]?.warnings.join(' ')).not.toMatch(/Spring salon/);
  });

  it('is refused after its deadline, and where it is not understood', async () => {
    await expect(enter(entry, { nowMs: Date.UTC(2026, 5, 1) })).rejects.toThrow(/deadline.*is past/);
    await expect(enter({ ...entry, schema: 'tepal/entry/2' })).rejects.toThrow(/newer version/);
    await expect(enter({ ...entry, rules: { ...entry.rules, mostKilobytes: -1 } })).rejects.toThrow(
      /mostKilobytes/,
    );
  });
});

describe('a contact sheet', () => {
  it('holds what can be read, lists what cannot, and carries no tags of the pictures', async () => {
    await writeFile(at('text.jpg'), 'no picture');
    const sheet = await contactSheet({
      ...{ pictures: [at('loose.jpg'), at('text.jpg'), at('raws', 'chart.dng')], output: at('sheet.jpg') },
      ...{ columns: 2, widthPx: 500, replace: false, pool },
    });
    expect(sheet).toMatchObject({ pictures: 2, widthPx: 500 });
    expect(sheet.failed).toHaveLength(1);
    const { data, info } = await sharp(at('sheet.jpg')).raw().toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([500, sheet.heightPx]);
    // The page's border is white and a picture is not.
    expect([data[0], data[1], data[2]]).toEqual([255, 255, 255]);
    const middle = 3 * (130 * info.width + 130);
    expect(data[middle]! + data[middle + 1]! + data[middle + 2]!).toBeLessThan(740);
    const names = Object.keys(await readTags(at('sheet.jpg')));
    expect(
      names.filter((name) => /GPS|Make|Model|Artist|City/.test(name) && !name.startsWith('ICC')),
    ).toEqual([]);
    expect((await readdir(folder)).filter((name) => name.startsWith('.'))).toEqual([]);
  });
});
