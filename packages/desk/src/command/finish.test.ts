// Finishing and delivering at the command line as built: documents, exit status, sentences.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readDocumentOf } from '@tepal/formats';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chartDng } from '../../fixtures/make-dng.ts';

const launcher = fileURLToPath(new URL('../../bin/tepal.js', import.meta.url));
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-command-'));
  mkdirSync(join(folder, 'out'));
  writeFileSync(join(folder, 'chart.dng'), chartDng(24));
  writeFileSync(
    join(folder, 's.json'),
    JSON.stringify({ schema: 'tepal/finish-steps/1', exposureStops: 0.25, sharpening: { strength: 1 } }),
  );
  writeFileSync(join(folder, 'newer.json'), JSON.stringify({ schema: 'tepal/finish-steps/7' }));
  writeFileSync(
    join(folder, 'rules.json'),
    JSON.stringify({ schema: 'tepal/rule-set/1', name: 'Club', pixels: { leastLongSidePx: 3000 } }),
  );
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function tepal(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [launcher, ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
}

describe('tepal finish and tepal deliver', () => {
  it('finish a raw, deliver it by its title into a folder, and tell the same in both documents', () => {
    const finished = tepal('finish', 'chart.dng', '--steps', 's.json', '-o', 'chart.tif', '--json');
    expect(finished.status).toBe(0);
    const one = readDocumentOf('tepal/finish/1', JSON.parse(finished.stdout));
    expect(one.ok && one.value.done).toEqual(['exposure raised by 0.25 stops']);
    const delivered = tepal(
      'deliver',
      'chart.tif',
      '--as',
      'screen',
      '-o',
      'out',
      '--title',
      'Chart: colours?',
      '--json',
    );
    expect(delivered.status).toBe(0);
    const two = readDocumentOf('tepal/deliver/1', JSON.parse(delivered.stdout));
    // Sharpening was wished in the steps, and is done for the delivered size.
    expect(two.ok && two.value.done).toEqual(['exposure raised by 0.25 stops', 'sharpened for its size']);
    expect(readdirSync(join(folder, 'out'))).toEqual(['Chart colours.jpg']);
  });

  it.each([
    [
      'steps of a newer version',
      ['finish', 'chart.dng', '--steps', 'newer.json', '-o', 'a.tif'],
      2,
      /newer version of Tepal/,
    ],
    [
      'steps that are not there',
      ['finish', 'chart.dng', '--steps', 'none.json', '-o', 'a.tif'],
      3,
      /none\.json cannot be read/,
    ],
    ['no steps', ['finish', 'chart.dng', '-o', 'a.tif'], 2, /--steps/],
    [
      'an unknown space',
      ['finish', 'chart.dng', '--steps', 's.json', '-o', 'a.tif', '--colour-space', 'cmyk'],
      2,
      /expected srgb/,
    ],
    [
      'rules that it cannot meet',
      ['deliver', 'chart.dng', '--as', 'screen', '-o', 'a.jpg', '--rules', 'rules.json'],
      2,
      /Not as Club asks.*3000 are asked for, and nothing is enlarged/,
    ],
    [
      'two pictures for one delivery',
      ['deliver', 'chart.dng', 'chart.dng', '--as', 'screen', '-o', 'a.jpg'],
      2,
      /One picture is delivered at a time/,
    ],
    ['an entry that is none', ['enter', 's.json', '-o', 'out'], 2, /expected "tepal\/entry\/1"/],
  ])('%s: a sentence and its exit status', (_name, args, status, sentence) => {
    const ended = tepal(...args);
    expect(ended.stderr).toMatch(sentence);
    expect(ended.status).toBe(status);
    expect(ended.stderr).not.toMatch(/\n\s+at /);
    expect(readdirSync(folder).some((name) => /^a\.|^\.tepal/.test(name))).toBe(false);
  });

  it('writes to no original', () => {
    expect(readFileSync(join(folder, 'chart.dng'))).toEqual(chartDng(24));
  });
});
