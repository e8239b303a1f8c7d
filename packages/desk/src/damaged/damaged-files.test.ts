import { readPhotoMetadata, readXmp, writeXmp } from '@tepal/formats';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { MeasureDocument } from '@tepal/formats';
import { contentHash } from '../files/hash.ts';
import { damagedFiles } from './damage.ts';
import { bundleDesk, watchedRun } from './watched-run.ts';

// All of the acceptance with TEPAL_DAMAGED=2000; fewer in the fast suite. TEPAL_DAMAGED_FOLDER adds files of one's own.
const count = Number(process.env['TEPAL_DAMAGED'] ?? 84);
const SEED = 20_260_510;

const fixtures = join(import.meta.dirname, 'fixtures');
const whole = readdirSync(fixtures)
  .filter((name) => !name.endsWith('.md'))
  // Damaged, this one sends the raw decoder round until its time is up: too long for the fast suite.
  .filter((name) => !name.endsWith('.rw2') || process.env['TEPAL_DAMAGED'] !== undefined)
  .map((name) => ({ name, bytes: readFileSync(join(fixtures, name)) }));
const folder = mkdtempSync(join(tmpdir(), 'tepal-damaged-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`${count} damaged photographs`, () => {
  it('are made the same by the same seed, and each differently', () => {
    const [one, two] = [1, 2].map(() => [...damagedFiles(whole, 60, SEED)]);
    expect(one!.every(({ bytes }, i) => bytes.equals(two![i]!.bytes))).toBe(true);
    expect(new Set(one!.map(({ bytes }) => contentHash(bytes))).size).toBeGreaterThan(50);
  });

  it(
    'are each measured or named with a reason, in time and within 1 GiB',
    { timeout: 60_000 + count * 2000 },
    async () => {
      // Folders of a few, so that names count as they do at home.
      for (const { name, bytes } of damagedFiles(whole, count, SEED)) {
        const inner = join(folder, name.slice(0, 3));
        mkdirSync(inner, { recursive: true });
        writeFileSync(join(inner, name), bytes);
      }
      const own = process.env['TEPAL_DAMAGED_FOLDER'];
      const program = await bundleDesk('damaged-files');
      for (const place of [folder, ...(own === undefined ? [] : [own])]) {
        const run = await watchedRun(program, ['measure', place, '--json']);
        process.stdout.write(
          `${place}: status ${run.status}, peak ${Math.round(run.peakBytes / 2 ** 20)} MiB, ${Math.round(run.ms)} ms\n`,
        );
        expect(run.status).toBe(4);
        expect(run.error).toBe('');
        expect(run.peakBytes).toBeLessThan(2 ** 30);
        const { frames, failed } = JSON.parse(run.out) as MeasureDocument;
        const told = new Set([
          ...frames.flatMap(({ file, companions }) => [file, ...companions]),
          ...failed.map(({ file }) => file),
        ]);
        for (const { reason } of failed) {
          expect(reason).toMatch(/^[A-Z].*\.$/s);
          expect(reason).not.toMatch(/failed badly|\bat .*:\d+:\d+|undefined|NaN/);
          expect(reason).not.toMatch(/vips|bad seek|failOn|No error|but received|custom tag/i);
        }
        // Some send the raw decoder round in circles; the pool gives those up after its time for a frame.
        const givenUp = failed.filter(({ reason }) => reason.includes('took too long')).length;
        expect(givenUp).toBeLessThanOrEqual(0.06 * told.size);
        process.stdout.write(
          `${told.size} files told of: ${frames.length} measured, ${failed.length} named, ${givenUp} of them given up\n`,
        );
        if (place === folder) expect(told.size).toBe(count);
      }
    },
  );

  it('are read for what they say of themselves without a fault, each within a second', () => {
    for (const { name, bytes } of damagedFiles(whole, count, SEED + 1)) {
      const started = performance.now();
      const read = readPhotoMetadata(bytes);
      expect(performance.now() - started, name).toBeLessThan(1000);
      if (!read.ok) expect(read.fault.message).toMatch(/\S/);
    }
  });

  it('and damaged sidecars are refused or read, never half-written', () => {
    const written = writeXmp({
      title: 'A scabious',
      keywords: ['meadow', 'dew'],
      rights: null,
      creator: ['N. N.'],
    });
    if (!written.ok) throw new Error(written.fault.message);
    const packet = { name: 'side.xmp', bytes: Buffer.from(written.value) };
    for (const { bytes } of damagedFiles([packet], count, SEED + 2)) {
      const text = bytes.toString('utf8');
      const read = readXmp(text);
      const again = writeXmp({ title: 'Another' }, text);
      if (again.ok && read.ok) expect(readXmp(again.value).ok).toBe(true);
    }
  });
});
