// Deliveries read back by others than the library that wrote them; places withheld; rules kept; nothing half-written.
import { spawn } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { decompressSync, FORMAT_RGB } from '@julusian/jpeg-turbo';
import { apply, deltaE2000, RGB_SPACES, rgbToXyz, xyzToLab, type Triple } from '@tepal/imaging';
import exifr from 'exifr';
import { fromFile } from 'geotiff';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RuleSetDocument } from '@tepal/formats';
import { CHART, chartDng } from '../../fixtures/make-dng.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import { deliverPicture, type Delivery } from './deliver.ts';
import { endExifTool, readTags, writeTags } from './exif-tool.ts';
import { freeName } from './names.ts';

const frame = fileURLToPath(new URL('../../../../demo/invented/frames/MEAD0201.JPG', import.meta.url));
const PATCH = 24;
let folder: string;
let pool: Pool;
const at = (name: string) => join(folder, name);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tepal-deliver-'));
  pool = openPool({ threads: 0 });
  await writeFile(at('chart.dng'), chartDng(PATCH));
  // A picture with everything that could give a place away.
  await copyFile(frame, at('placed.jpg'));
  await writeTags(at('placed.jpg'), {
    'GPS:GPSLatitude': 51.123456,
    'GPS:GPSLatitudeRef': 'N',
    'GPS:GPSLongitude': 1.654321,
    'GPS:GPSLongitudeRef': 'W',
    'XMP-photoshop:City': 'Littleham',
    'XMP-iptcExt:LocationCreatedSublocation': 'Upper Down',
    'IPTC:Sub-location': 'Upper Down',
    'XMP-dc:Description': 'beside the gate at Upper Down',
    'XMP-dc:Creator': ['A. Finder'],
    'ExifIFD:SerialNumber': '12345678',
  });
});

afterAll(async () => {
  await pool.close();
  await endExifTool();
  await rm(folder, { recursive: true, force: true });
});

function deliver(picture: string, output: string, more: Partial<Delivery> = {}) {
  return deliverPicture({
    ...{
      picture,
      output: at(output),
      as: 'screen',
      replace: false,
      boxPx: null,
      sizeMm: null,
      ppi: 300,
      limitKb: null,
    },
    ...{ caption: {}, place: 'none', sensitivity: 'none', pool },
    ...more,
  });
}

const light = (code: number) => (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4);
const white = apply(rgbToXyz(RGB_SPACES.srgb), [1, 1, 1]);
const labOf = (codes: readonly number[]) =>
  xyzToLab(
    apply(rgbToXyz(RGB_SPACES.srgb), codes.map((code) => light(code / 255)) as unknown as Triple),
    white,
  );

/** The middles of the chart's patches in interleaved 8-bit RGB. */
function worstPatch(data: Uint8Array, width: number): number {
  const patch = width / 6;
  return Math.max(
    ...CHART.map((codes, n) => {
      const x = Math.floor(((n % 6) + 0.5) * patch);
      const y = Math.floor((Math.floor(n / 6) + 0.5) * patch);
      const i = 3 * (y * width + x);
      return deltaE2000(labOf([data[i]!, data[i + 1]!, data[i + 2]!]), labOf(codes));
    }),
  );
}

describe('the chart, from raw to delivery', () => {
  it('comes out within ΔE00 1 in a JPEG, by another decoder', async () => {
    const document = await deliver(at('chart.dng'), 'chart.jpg');
    const { data, width } = decompressSync(await readFile(document.output), { format: FORMAT_RGB });
    expect(worstPatch(data, width)).toBeLessThan(1);
    expect(document).toMatchObject({ profile: 'sRGB IEC61966-2.1', done: [] });
    expect((await exifr.parse(document.output, { icc: true }))?.ProfileDescription).toBe('sRGB IEC61966-2.1');
  });

  it.each(['displayP3', 'adobeRgb'] as const)(
    'in %s comes back within ΔE00 1 through another colour engine',
    async (space) => {
      const document = await deliver(at('chart.dng'), `chart-${space}.jpg`, { space });
      const { data, info } = await sharp(document.output)
        .toColourspace('srgb')
        .raw()
        .toBuffer({ resolveWithObject: true });
      expect(worstPatch(data, info.width)).toBeLessThan(1);
    },
  );

  it('in half its size as well', async () => {
    await writeFile(at('large.dng'), chartDng(3 * PATCH));
    const document = await deliver(at('large.dng'), 'chart-small.jpg', {
      boxPx: { width: 216, height: 216 },
    });
    const { data, width } = decompressSync(await readFile(document.output), { format: FORMAT_RGB });
    expect([document.widthPx, document.heightPx, width]).toEqual([216, 144, 216]);
    expect(worstPatch(data, width)).toBeLessThan(1);
  });
});

describe('an archive', () => {
  it('keeps every 16-bit sample and the profile, by another reader, with the list beside it', async () => {
    const data = Uint16Array.from({ length: 90 * 60 * 3 }, (_, i) => (i * 40_503) % 65_536);
    await sharp(data, { raw: { width: 90, height: 60, channels: 3 } })
      .toColourspace('rgb16')
      .tiff({ compression: 'none' })
      .toFile(at('wide.tif'));
    const { profileOf } = await import('../finish/spaces.ts');
    await writeFile(at('wide.icc'), profileOf('wide'));
    await writeTags(at('wide.tif'), {}, at('wide.icc'));
    const document = await deliver(at('wide.tif'), 'archive.tif', {
      as: 'archive',
      caption: { title: 'Lily' },
    });
    const image = await (await fromFile(document.output)).getImage();
    const samples = (await image.readRasters({ interleave: true })) as Uint16Array;
    expect(
      Buffer.compare(
        Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength),
        Buffer.from(data.buffer),
      ),
    ).toBe(0);
    expect(document.profile).toBe('BT.2020 primaries, sRGB curve');
    const list = JSON.parse(await readFile(at('archive.done.json'), 'utf8')) as {
      schema: string;
      original: { file: string };
    };
    expect(list).toMatchObject({ schema: 'tepal/done/1', original: { file: 'wide.tif' } });
  });
});

describe('a caption', () => {
  it('is read by others: title, text, creator, rights, keywords, scientific name, what was done', async () => {
    const caption = {
      ...{
        title: 'Lily',
        caption: 'A lily & a bee\nat dawn – “wild”',
        creator: 'Ána Ørn',
        rights: '© Ána Ørn',
      },
      ...{ keywords: ['lily', 'dawn'], scientificName: 'Lilium martagon' },
    };
    const deeds = [{ deed: 'stacked', words: 'blended from 5 frames at different focus' }] as const;
    const { output } = await deliver(at('placed.jpg'), 'captioned.jpg', { caption, deeds });
    const read = (await exifr.parse(output, { xmp: true, iptc: true, ifd0: true } as object)) as Record<
      string,
      unknown
    >;
    expect(JSON.stringify(read)).toContain('Lilium martagon');
    const tags = await readTags(output);
    expect(tags['XMP-dc:Description']).toBe(caption.caption);
    expect(tags['XMP-dc:Creator']).toEqual(['Ána Ørn']);
    expect(tags['IPTC:CopyrightNotice']).toBe('© Ána Ørn');
    expect(tags['XMP-dc:Subject']).toEqual(['lily', 'dawn', 'Lilium martagon']);
    expect(tags['XMP-photoshop:History']).toBe('Done: blended from 5 frames at different focus.');
  });
});

describe('places', () => {
  it('are left out of everything unless asked for, and what was left out is said', async () => {
    const { output, withheld } = await deliver(at('placed.jpg'), 'secret.jpg');
    const bytes = await readFile(output);
    for (const secret of ['Littleham', 'Upper Down', '12345678', 'gate'])
      expect(bytes.includes(secret), secret).toBe(false);
    const names = Object.keys(await readTags(output));
    expect(
      names.filter((name) => /GPS|City|Location|Serial|MakerNote|Preview|Thumbnail/i.test(name)),
    ).toEqual([]);
    expect(withheld.join('\n')).toMatch(/coordinates.*\n.*location created|coordinates/);
    expect(await exifr.gps(output)).toBeUndefined();
    expect((await readTags(output))['XMP-dc:Creator']).toEqual(['A. Finder']);
  });

  it('go exactly only where the subject is not sensitive, coarsely by the published grid', async () => {
    await expect(
      deliver(at('placed.jpg'), 'no.jpg', { place: 'exact', sensitivity: 'high' }),
    ).rejects.toThrow(/exact place is refused/);
    await expect(deliver(at('placed.jpg'), 'no.jpg', { place: 'exact', sensitivity: null })).rejects.toThrow(
      /counts as medium/,
    );
    const exact = await deliver(at('placed.jpg'), 'exact.jpg', { place: 'exact', sensitivity: 'none' });
    expect((await exifr.gps(exact.output))?.latitude).toBeCloseTo(51.123456, 5);
    const coarse = await deliver(at('placed.jpg'), 'coarse.jpg', { place: 'coarse', sensitivity: 'high' });
    // Chapman 2020, category 2: a cell of 0.1 degree, given by its middle.
    expect((await exifr.gps(coarse.output))?.latitude).toBeCloseTo(51.15, 6);
    expect((await readFile(coarse.output)).includes('Littleham')).toBe(false);
    expect(await readdir(folder)).not.toContain('no.jpg');
  });
});

describe('sizes', () => {
  it('fit a limit in kilobytes, caption included, and say at what quality', async () => {
    const { output, quality, bytes } = await deliver(frame, 'limited.jpg', {
      limitKb: 60,
      boxPx: { width: 700, height: 700 },
    });
    expect((await stat(output)).size).toBe(bytes);
    expect(bytes).toBeLessThanOrEqual(60_000);
    expect(quality).toBeLessThan(95);
    await expect(deliver(frame, 'too-small.jpg', { limitKb: 3 })).rejects.toThrow(/does not fit into/);
  });

  it('of a print say the true resolution, and nothing is enlarged', async () => {
    const own = await sharp(frame).metadata();
    const print = await deliver(frame, 'print.jpg', { as: 'print', sizeMm: { width: 900, height: 600 } });
    expect([print.widthPx, print.heightPx].sort()).toEqual([own.width, own.height].sort());
    expect(print.notes?.join(' ')).toMatch(/was not enlarged/);
    expect((await readTags(print.output))['IFD0:XResolution']).toBeCloseTo(print.ppi!, 1);
    const box = await deliver(frame, 'box.jpg', { boxPx: { width: 9000, height: 9000 } });
    expect(box.notes?.join(' ')).toMatch(/not enlarged/);
  });
});

describe('rules', () => {
  const rules: RuleSetDocument = {
    ...{
      schema: 'tepal/rule-set/1',
      name: 'Club evening',
      format: 'jpeg',
      colourSpace: 'srgb',
      mostKilobytes: 300,
    },
    pixels: { withinBox: { width: 400, height: 300 } },
    whatMayBeDone: { backgroundQuietened: 'no', stacked: 'declare' },
    everythingElse: 'yes',
  };

  it('are met where they honestly can be, and each is told', async () => {
    const document = await deliver(at('chart.dng'), 'ruled.jpg', { rules });
    expect(document.widthPx).toBeLessThanOrEqual(400);
    expect(document.checks?.map(({ verdict }) => verdict)).not.toContain('refused');
  });

  it('refuse with the reason, and leave no file', async () => {
    const steps = { schema: 'tepal/finish-steps/1', background: { calm: 0.5 } } as const;
    await expect(deliver(at('chart.dng'), 'refused.jpg', { rules, steps })).rejects.toThrow(
      /Club evening asks.*do not allow darkening/,
    );
    await expect(deliver(frame, 'unknown.jpg', { rules })).rejects.toThrow(/say what was done/);
    expect(await readdir(folder)).not.toContain('refused.jpg');
  });
});

describe('names', () => {
  it('come from the title, and never stand on one another', async () => {
    await writeFile(at('Lily at dawn.jpg'), '');
    expect(await freeName(folder, { title: 'Lily at dawn', original: '/x/IMG_1.CR2' }, '.jpg')).toBe(
      at('Lily at dawn 2.jpg'),
    );
    expect(await freeName(folder, { title: null, original: '/x/IMG_1.CR2' }, '.jpg')).toBe(at('IMG_1.jpg'));
  });
});

describe('stopping', () => {
  it('by the photographer ends the pixel work and leaves nothing', async () => {
    const stop = new AbortController();
    const own = openPool({ threads: 0 });
    const work = deliver(at('placed.jpg'), 'stopped.jpg', {
      signal: stop.signal,
      pool: own,
      tell: () => stop.abort(),
    });
    await expect(work).rejects.toThrow(/stopped/);
    expect((await readdir(folder)).filter((name) => name.includes('stopped'))).toEqual([]);
  });

  it('by killing the program at any moment leaves the whole file or none', async () => {
    const target = at('killed');
    await mkdir(target);
    const launcher = fileURLToPath(new URL('../../bin/tepal.js', import.meta.url));
    let whole = 0;
    for (let round = 0; round < 10; round += 1) {
      const output = join(target, `${round}.jpg`);
      const child = spawn(process.execPath, [launcher, 'deliver', frame, '--as', 'screen', '-o', output], {
        stdio: 'ignore',
      });
      // From the start of the program to well after its end, as quick or slow as this computer is.
      const ended = new Promise((resolve) => child.once('exit', resolve));
      await Promise.race([ended, new Promise((resolve) => setTimeout(resolve, 150 * (round + 1)))]);
      child.kill('SIGKILL');
      await ended;
      const found = (await readdir(target)).includes(`${round}.jpg`);
      if (!found) continue;
      whole += 1;
      const bytes = await readFile(output);
      expect([bytes[0], bytes[1], bytes.at(-2), bytes.at(-1)]).toEqual([0xff, 0xd8, 0xff, 0xd9]);
      expect(decompressSync(bytes, { format: FORMAT_RGB }).width).toBeGreaterThan(0);
      expect((await readTags(output))['IFD0:Software']).toMatch(/^Tepal/);
    }
    expect(whole).toBeLessThanOrEqual(10);
  }, 120_000);

  it('for a limit on file size leaves nothing, and says why', async () => {
    const launcher = fileURLToPath(new URL('../../bin/tepal.js', import.meta.url));
    const output = at('limit.tif');
    const child = spawn(
      'bash',
      [
        '-c',
        `ulimit -f 200; exec "${process.execPath}" "${launcher}" deliver "${frame}" --as archive -o "${output}"`,
      ],
      { stdio: ['ignore', 'ignore', 'pipe'] },
    );
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => (said += chunk.toString()));
    const status = await new Promise((resolve) => child.once('exit', resolve));
    expect(status).toBe(3);
    expect(said).toMatch(/^tepal: .*larger than the disk, or your account, allows\./);
    expect(said).not.toMatch(/\n\s+at /);
    expect((await readdir(folder)).filter((name) => name.includes('limit.'))).toEqual([]);
  }, 60_000);
});
