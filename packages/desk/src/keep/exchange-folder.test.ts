// A folder that two computers see: whatever order they come in, both end with everything, and nothing is overwritten.
import { change, createNotebook, list, sameNotebook, type Notebook } from '@tepal/notebook';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readNotebook, readyNotebooks, writeNotebook } from '../library/notebook-file.ts';
import { exchangeThroughFolder } from './exchange-folder.ts';

let folder: string;
beforeAll(readyNotebooks);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-exchange-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const with1 = (notebook: Notebook, id: string) =>
  change(notebook, { message: id, timeMs: 0 }, (pen) =>
    pen.put('freeHours', {
      ...{ id, from: '2026-06-14T05:00:00Z', to: '2026-06-14T07:00:00Z', repeats: 'once', label: null },
    }),
  );
const idsOf = (notebook: Notebook) => list(notebook, 'freeHours').map(({ id }) => id);

describe('a folder that computers share', () => {
  it('brings three of them together, and keeps one file for each state', async () => {
    let [a, b, c] = ['a', 'b', 'c'].map((id) => with1(createNotebook(), id)) as [
      Notebook,
      Notebook,
      Notebook,
    ];
    ({ notebook: a } = await exchangeThroughFolder(a, folder, 'desk'));
    ({ notebook: b } = await exchangeThroughFolder(b, folder, 'laptop'));
    ({ notebook: c } = await exchangeThroughFolder(c, folder, 'phone'));
    expect(idsOf(c)).toEqual(['a', 'b', 'c']);
    ({ notebook: a } = await exchangeThroughFolder(with1(a, 'd'), folder, 'desk'));
    ({ notebook: b } = await exchangeThroughFolder(b, folder, 'laptop'));
    expect(idsOf(a)).toEqual(['a', 'b', 'c', 'd']);
    expect(sameNotebook(a, b)).toBe(true);
    expect(readdirSync(folder)).toHaveLength(1);
  });

  it('loses nothing when two write at once', async () => {
    const [a, b] = [with1(createNotebook(), 'a'), with1(createNotebook(), 'b')];
    await Promise.all([exchangeThroughFolder(a, folder, 'desk'), exchangeThroughFolder(b, folder, 'laptop')]);
    const { notebook } = await exchangeThroughFolder(createNotebook(), folder, 'phone');
    expect(idsOf(notebook)).toEqual(['a', 'b']);
  });

  it('leaves alone what is damaged or half copied, and says so', async () => {
    const { written } = await exchangeThroughFolder(with1(createNotebook(), 'a'), folder, 'desk');
    const whole = readFileSync(join(folder, written));
    writeFileSync(join(folder, 'half (copy 2).tepal-exchange'), whole.subarray(0, whole.length / 2));
    const { faults, notebook } = await exchangeThroughFolder(createNotebook(), folder, 'laptop');
    expect(idsOf(notebook)).toEqual(['a']);
    expect(faults.map(({ reason }) => reason)).toEqual([expect.stringContaining('cut short or damaged')]);
    expect(readdirSync(folder)).toContain('half (copy 2).tepal-exchange');
  });
});

describe('a notebook’s file', () => {
  it('keeps what two programs saved in it at once', async () => {
    const path = join(folder, 'notebook.automerge');
    const begun = (await readNotebook(path, { create: true })).notebook;
    await writeNotebook(path, begun);
    const open = async () => (await readNotebook(path, { create: false })).notebook;
    const some = await Promise.all(Array.from({ length: 8 }, open));
    await Promise.all(some.map((notebook, i) => writeNotebook(path, with1(notebook, `n${i}`))));
    expect(idsOf(await open())).toHaveLength(8);
    expect(readdirSync(folder)).toEqual(['notebook.automerge']);
  });

  it('is left as it is when what stands there is no notebook', async () => {
    const path = join(folder, 'notebook.automerge');
    writeFileSync(path, 'a letter');
    await expect(writeNotebook(path, createNotebook())).rejects.toThrow('left as it is');
    expect(readFileSync(path, 'utf8')).toBe('a letter');
  });
});
