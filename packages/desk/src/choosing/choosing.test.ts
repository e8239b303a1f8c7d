// Decisions written as sidecars, and outs moved to the folder beside: nothing of anybody's is lost on the way.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { USUAL_RATINGS as ratings } from '@tepal/advice';
import { readXmp, writeXmpRating, type Decision } from '@tepal/formats';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openLibrary, type Library } from '../library/library.ts';
import { invented } from '../../fixtures/invented-frames.ts';
import { besideOf, bringBackOuts, moveOuts } from './outs.ts';
import { planRatings, writeRatings } from './sidecars.ts';

let place: string;
let folder: string;
let library: Library;

beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), 'tepal-choosing-'));
  folder = join(place, 'meadow');
  mkdirSync(join(folder, 'later'), { recursive: true });
  library = openLibrary(join(place, 'library'));
  invented(library, folder, [
    { id: 'a', file: 'a.jpg', companions: ['a.cr2'] },
    { id: 'b', file: 'later/b.jpg', companions: ['later/b.xmp'] },
    { id: 'c', file: 'c.jpg' },
    { id: 'd', file: 'c.png' },
  ]);
});
afterEach(() => {
  library.close();
  rmSync(place, { recursive: true, force: true });
});

const decide = (decisions: Readonly<Record<string, Decision | null>>) => {
  for (const [id, decision] of Object.entries(decisions)) library.decide(id, decision);
};
const everyFile = (at: string): string[] =>
  readdirSync(at, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(at.length + 1))
    .sort();
const usual = { ratings, changeOthers: false };
const rating = (file: string) => {
  const read = readXmp(readFileSync(join(folder, file), 'utf8'));
  return read.ok ? read.value.rating : undefined;
};

const others = `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
  <rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:odd="http://example.org/odd/"
    xmp:Rating="5" xmp:Label="Second" odd:kept="yes"/></rdf:RDF></x:xmpmeta>`;

describe('decisions as sidecars', () => {
  it('shows what it would do and writes nothing until asked', async () => {
    decide({ a: 'keep' });
    const before = everyFile(place);
    const { rows } = await planRatings(library, folder, usual);
    expect(rows).toMatchObject([{ file: 'a.jpg', sidecar: 'a.xmp', step: { kind: 'write', rating: 3 } }]);
    expect(everyFile(place)).toEqual(before);
  });

  it('writes a new sidecar by the base name, or by the full name where two pictures share it', async () => {
    decide({ a: 'keep', c: 'maybe', d: 'out' });
    const { rows } = await writeRatings(library, folder, usual);
    expect(rows.map(({ sidecar, written }) => [sidecar, written])).toEqual([
      ['a.xmp', true],
      ['c.jpg.xmp', true],
      ['c.png.xmp', true],
    ]);
    expect([rating('a.xmp'), rating('c.jpg.xmp'), rating('c.png.xmp')]).toEqual([3, 1, -1]);
  });

  it('leaves the rating of somebody else unless asked, and then keeps everything else in the file', async () => {
    writeFileSync(join(folder, 'later/b.xmp'), others);
    decide({ b: 'out' });
    const left = await writeRatings(library, folder, usual);
    expect(left.rows).toMatchObject([
      { step: { kind: 'otherRating', there: 5, wanted: -1 }, written: false },
    ]);
    expect(readFileSync(join(folder, 'later/b.xmp'), 'utf8')).toBe(others);
    await writeRatings(library, folder, { ratings, changeOthers: true });
    const read = readXmp(readFileSync(join(folder, 'later/b.xmp'), 'utf8'));
    expect(read.ok && read.value).toMatchObject({ rating: -1, label: 'Second' });
    expect(readFileSync(join(folder, 'later/b.xmp'), 'utf8')).toContain('odd:kept="yes"');
  });

  it('follows a changed mind, and takes its own rating out when the decision is taken back', async () => {
    decide({ a: 'keep' });
    await writeRatings(library, folder, usual);
    decide({ a: 'out' });
    await writeRatings(library, folder, usual);
    expect(rating('a.xmp')).toBe(-1);
    decide({ a: null });
    await writeRatings(library, folder, usual);
    expect(rating('a.xmp')).toBeNull();
    expect((await planRatings(library, folder, usual)).rows).toEqual([]);
  });

  it('reports a sidecar that is no XMP, leaves it as it is, and goes on', async () => {
    writeFileSync(join(folder, 'later/b.xmp'), 'not XML at all <');
    decide({ b: 'keep', c: 'keep' });
    const { rows } = await writeRatings(library, folder, usual);
    expect(rows.map(({ file, written }) => [file, written])).toEqual([
      ['later/b.jpg', false],
      ['c.jpg', true],
    ]);
    expect(rows[0]?.fault).toMatch(/left alone/);
    expect(readFileSync(join(folder, 'later/b.xmp'), 'utf8')).toBe('not XML at all <');
  });
});

describe('outs', () => {
  it('go to the folder beside with their companions, and come back to where they were', async () => {
    decide({ a: 'out', b: 'out', c: 'keep' });
    const before = everyFile(folder);
    const gone = await moveOuts(library, folder);
    expect(gone.moved).toEqual([
      { file: 'a.jpg', files: 2 },
      { file: 'later/b.jpg', files: 2 },
    ]);
    expect(everyFile(besideOf(folder))).toEqual(['a.cr2', 'a.jpg', 'later/b.jpg', 'later/b.xmp']);
    expect(everyFile(folder)).toEqual(['c.jpg', 'c.png']);
    expect(library.frame('a')?.path).toBe(join(besideOf(folder), 'a.jpg'));
    expect((await moveOuts(library, folder)).moved).toEqual([]);
    const back = await bringBackOuts(library, folder);
    expect(back.failed).toEqual([]);
    expect(everyFile(folder)).toEqual(before);
    expect(library.frame('a')?.path).toBe(join(folder, 'a.jpg'));
    expect(library.moves()).toEqual([]);
  });

  it('take the sidecar along that was written for the decision', async () => {
    decide({ a: 'out', c: 'out' });
    await writeRatings(library, folder, usual);
    await moveOuts(library, folder);
    expect(everyFile(besideOf(folder))).toEqual(['a.cr2', 'a.jpg', 'a.xmp', 'c.jpg', 'c.jpg.xmp']);
  });

  it('replace nothing: where a companion cannot go, the whole picture stays, and the others go', async () => {
    mkdirSync(besideOf(folder));
    writeFileSync(join(besideOf(folder), 'a.cr2'), 'somebody else’s');
    decide({ a: 'out', c: 'out' });
    const { moved, failed } = await moveOuts(library, folder);
    expect(moved.map(({ file }) => file)).toEqual(['c.jpg']);
    expect(failed).toMatchObject([{ file: 'a.jpg', reason: expect.stringContaining('is there already') }]);
    expect(everyFile(folder)).toContain('a.jpg');
    expect(readFileSync(join(besideOf(folder), 'a.cr2'), 'utf8')).toBe('somebody else’s');
    expect(library.moves().map(({ frameId }) => frameId)).toEqual(['c']);
  });

  it('are known after a kill between the note and the move', async () => {
    library.noteMove({
      ...{ frameId: 'a', from: join(folder, 'a.jpg'), to: join(besideOf(folder), 'a.jpg') },
      isFrame: true,
    });
    const before = everyFile(folder);
    const { failed } = await bringBackOuts(library, folder);
    expect(failed).toEqual([]);
    expect(everyFile(folder)).toEqual(before);
    expect(library.moves()).toEqual([]);
  });
});

it('a packet with a rating of ours is read by the reader of sidecars', () => {
  const packet = writeXmpRating(3);
  expect(packet.ok && readXmp(packet.value)).toMatchObject({ ok: true, value: { rating: 3, label: null } });
});
