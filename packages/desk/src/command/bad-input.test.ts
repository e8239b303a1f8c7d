// Bad input at the command line as built: a clear sentence, the right exit status, no stack trace, the rest goes on.
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const launcher = fileURLToPath(new URL('../../bin/tepal.js', import.meta.url));
const frame = fileURLToPath(new URL('../../../../demo/invented/frames/MEAD0201.JPG', import.meta.url));
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-bad-'));
  mkdirSync(join(folder, 'empty'));
  mkdirSync(join(folder, 'mixed'));
  copyFileSync(frame, join(folder, 'mixed', 'whole.jpg'));
  writeFileSync(join(folder, 'mixed', 'cut.jpg'), readFileSync(frame).subarray(0, 60_000));
  writeFileSync(join(folder, 'mixed', 'text.jpg'), 'this is a text\n');
  writeFileSync(join(folder, 'mixed', 'nothing.cr2'), '');
  writeFileSync(join(folder, 'text.json'), 'no forecast');
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function tepal(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [launcher, ...args], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
}

const exposure = ['--sensor', '36x24', '--pixels', '6000x4000', '--focal', '100', '--subject-depth', '12'];

describe('bad input', () => {
  it.each([
    ['an empty folder', ['measure', 'empty'], 3, /no photographs/],
    ['a folder that is not there', ['measure', 'nowhere'], 3, /no folder/],
    ['a file in place of a folder', ['measure', 'mixed/whole.jpg'], 3, /is a file/],
    [
      'a text for a forecast',
      ['when', '--lat', '51', '--lon', '-105', '--forecast', 'text.json'],
      3,
      /text.json/,
    ],
    [
      'magnification -1',
      ['expose', ...exposure, '--background', '400', '--ev100', '11', '--magnification', '-1'],
      2,
      /magnification/,
    ],
    ['a command that does not exist', ['nonsense'], 2, /unknown command/],
  ])('%s gets a sentence and its exit status', (_name, args, status, sentence) => {
    const ended = tepal(...args);
    expect(ended.status).toBe(status);
    expect(ended.stderr).toMatch(sentence);
    expect(ended.stderr).not.toMatch(/\n\s+at /);
    expect(ended.stdout).toBe('');
  });

  it('is listed with its reason while the rest is measured', () => {
    const before = readFileSync(join(folder, 'mixed', 'cut.jpg'));
    const { status, stdout } = tepal('measure', 'mixed', '--json');
    const document = JSON.parse(stdout) as {
      frames: { file: string }[];
      failed: { file: string; reason: string }[];
    };
    expect(status).toBe(4);
    expect(document.frames.map(({ file }) => file)).toEqual(['whole.jpg']);
    expect(document.failed.map(({ file }) => file).sort()).toEqual(['cut.jpg', 'nothing.cr2', 'text.jpg']);
    for (const { reason } of document.failed) expect(reason.length).toBeGreaterThan(10);
    expect(readFileSync(join(folder, 'mixed', 'cut.jpg'))).toEqual(before);
  });
});
