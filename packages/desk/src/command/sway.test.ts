// A rendered burst through the command's own way: frames on the disk, times told or read, the sway kept with the plant.
import { readDocumentOf } from '@tepal/formats';
import { change, createNotebook, find, saveNotebook } from '@tepal/notebook';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { readNotebook, readyNotebooks } from '../library/notebook-file.ts';
import { run } from './program.ts';

const scabious = fileURLToPath(new URL('../../../../demo/sources/scabious.jpg', import.meta.url));
const [WIDTH, HEIGHT, HEAD, FRAMES, HZ, AMPLITUDE_PX] = [600, 400, 140, 50, 1.5, 12];
let folder: string;

/** A round head cut from the photograph, moved by whole pixels over the rest of it; the truth is where it was put. */
const xs = Array.from({ length: FRAMES }, (_, i) =>
  Math.round(AMPLITUDE_PX * Math.sin((Math.PI * i) / 3 + 0.3)),
);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-sway-'));
  const ground = await sharp(scabious).resize(WIDTH, HEIGHT, { fit: 'cover' }).flop().png().toBuffer();
  const circle = Buffer.from(`<svg width="${HEAD}" height="${HEAD}"><circle cx="70" cy="70" r="69"/></svg>`);
  const head = await sharp(scabious)
    .resize(WIDTH, HEIGHT, { fit: 'cover' })
    .extract({ left: 230, top: 130, width: HEAD, height: HEAD })
    .composite([{ input: circle, blend: 'dest-in' }])
    .png()
    .toBuffer();
  for (const [i, x] of xs.entries()) {
    const left = (WIDTH - HEAD) / 2 + x;
    await sharp(ground)
      .composite([{ input: head, left, top: (HEIGHT - HEAD) / 2 }])
      .jpeg({ quality: 95 })
      .toFile(join(folder, `frame-${String(i).padStart(3, '0')}.jpg`));
  }
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));
afterEach(() => {
  vi.restoreAllMocks();
  process.exitCode = 0;
});

async function tepal(...args: string[]) {
  const [out, err]: [string[], string[]] = [[], []];
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => out.push(String(text)) > 0);
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => err.push(String(text)) > 0);
  await run(args);
  return { status: process.exitCode, stdout: out.join(''), stderr: err.join('') };
}

describe('tepal sway', () => {
  it('finds the sway of a rendered burst in mm at the subject, and keeps it with the plant', async () => {
    await readyNotebooks();
    const file = join(folder, 'notebook.automerge');
    const plant = {
      ...{ id: 'scabious', scientificName: 'Scabiosa columbaria', commonNames: {}, heightAboveGroundM: null },
      ...{ sizeMm: null, depthMm: null, stem: null, sway: null, opens: 'any' as const, months: [] },
      ...{ sensitivity: null, notes: '' },
    };
    const made = change(createNotebook(), { message: 'made', timeMs: 0 }, (pen) => pen.put('subject', plant));
    writeFileSync(file, saveNotebook(made));
    const told = await tepal(
      ...['sway', folder, '--interval-s', String(1 / (6 * HZ)), '--point', '0.5,0.5', '--head', '0.22'],
      ...[
        '--magnification',
        '0.25',
        '--sensor',
        '36x24',
        '--notebook',
        file,
        '--subject',
        'scabious',
        '--json',
      ],
    );
    expect(told.stderr).toBe('');
    const read = readDocumentOf('tepal/sway/1', JSON.parse(told.stdout));
    if (!read.ok) throw new Error(read.fault.message);
    const { amplitude, frequencyHz, directionDeg, freezingTimeS } = read.value;
    const mean = xs.reduce((sum, x) => sum + x, 0) / FRAMES;
    const amplitudePx = Math.SQRT2 * Math.sqrt(xs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / FRAMES);
    expect(Math.abs(amplitude!.px / amplitudePx - 1)).toBeLessThan(0.05);
    expect(amplitude!.mm).toBeCloseTo((amplitude!.px * 36) / WIDTH / 0.25, 9);
    expect(Math.abs(frequencyHz!.observed / HZ - 1)).toBeLessThan(0.03);
    expect(Math.min(directionDeg, 180 - directionDeg)).toBeLessThan(2);
    expect(freezingTimeS).toBeGreaterThan(0);
    const { notebook } = await readNotebook(file, { create: false });
    expect(find(notebook, 'subject', 'scabious')?.sway).toEqual({
      amplitudeMm: amplitude!.mm,
      frequencyHz: frequencyHz!.observed,
    });
  }, 120_000);

  it('says what it lacks', async () => {
    expect(await tepal('sway', folder)).toMatchObject({ status: 3 });
    expect((await tepal('sway', folder, '--magnification', '0.25')).stderr).toMatch(/needs --sensor/);
    expect((await tepal('sway', folder, '--subject', 'x')).stderr).toMatch(/needs both/);
  });
});
