import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { readDocumentOf } from '@tepal/formats';
import { copyCard, type CopyOptions } from './copy-card.ts';
import { nodeDisk, type Disk } from './disk.ts';
import { readPattern } from './naming.ts';
import { renderCard } from './rendered-card.ts';

const made: string[] = [];
afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
});

function room() {
  const root = mkdtempSync(join(tmpdir(), 'tepal-copy-'));
  made.push(root);
  const [card, home, also] = ['card', 'home', 'also'].map((name) => join(root, name));
  mkdirSync(card!);
  return { card: card!, home: home!, also: also! };
}

const copy = (
  card: string,
  folders: readonly string[],
  more: Partial<CopyOptions> & { name?: string } = {},
) =>
  copyCard({
    ...{ card, folders, disk: nodeDisk, outing: null, signal: new AbortController().signal },
    pattern: readPattern(more.name ?? '{day}/{day} {name}'),
    tell: () => undefined,
    ...more,
  });

const hashOf = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');

/** Every file below, hidden ones too. */
function filesBelow(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile());
}
const shown = (folder: string) => filesBelow(folder).filter((path) => !basename(path).startsWith('.'));
const contents = (folder: string) => shown(folder).map(hashOf).sort();

describe('copying a card', () => {
  it('copies raw, JPEG and sidecar under one new name, to two disks, and says that all is safe', async () => {
    const { card, home, also } = room();
    renderCard(card, { pictures: 3 });
    const before = contents(card);
    const document = await copy(card, [home, also], {
      name: '{day} {outing} {number}',
      outing: 'wet meadow',
    });
    expect(readDocumentOf('tepal/copy/1', document).ok).toBe(true);
    expect(document.allSafe).toBe(true);
    expect(document.saying).toContain('All 10 files of the card are safe in');
    const names = shown(home).map((path) => basename(path));
    expect(names).toContain('2026-05-10 wet meadow 0001.CR2');
    expect(names).toContain('2026-05-10 wet meadow 0001.JPG');
    expect(names).toContain('2026-05-10 wet meadow 0001.CR2.xmp');
    expect(contents(home)).toEqual(before);
    expect(contents(also)).toEqual(before);
    expect(contents(card)).toEqual(before);
    for (const { target, hash } of document.files) expect(hash).toBe(`sha256:${hashOf(target)}`);
  });

  it('keeps the time of change that the camera gave a file', async () => {
    const { card, home } = room();
    renderCard(card, { pictures: 1 });
    const source = filesBelow(card).find((path) => path.endsWith('.JPG'))!;
    utimesSync(source, new Date(), new Date('2026-05-10T06:00:00Z'));
    await copy(card, [home]);
    const target = shown(home).find((path) => path.endsWith('.JPG'))!;
    expect(statSync(target).mtimeMs).toBe(Date.parse('2026-05-10T06:00:00Z'));
  });

  it('knows content that is there under another name, and puts a new sidecar beside it', async () => {
    const { card, home } = room();
    renderCard(card, { pictures: 1, sidecars: false });
    await copy(card, [home], { name: 'mine/{name}' });
    writeFileSync(join(card, 'DCIM', '100MEADW', 'IMG_0001.xmp'), '<x/>');
    const again = await copy(card, [home], { name: 'other words/{day} {number}' });
    expect(again.files.map(({ result }) => result).sort()).toEqual([
      'alreadyThere',
      'alreadyThere',
      'copied',
    ]);
    expect(existsSync(join(home, 'mine', 'IMG_0001.xmp'))).toBe(true);
  });

  it('gives two pictures of one name two names, and replaces nothing', async () => {
    const { card, home } = room();
    mkdirSync(join(card, 'a'), { recursive: true });
    mkdirSync(join(card, 'b'));
    writeFileSync(join(card, 'a', 'IMG_1.JPG'), 'one');
    writeFileSync(join(card, 'b', 'img_1.jpg'), 'two');
    mkdirSync(home);
    writeFileSync(join(home, 'IMG_1.JPG'), 'mine');
    const document = await copy(card, [home], { name: '{name}' });
    expect(document.allSafe).toBe(true);
    expect(readFileSync(join(home, 'IMG_1.JPG'), 'utf8')).toBe('mine');
    expect(
      shown(home)
        .map((path) => readFileSync(path, 'utf8'))
        .sort(),
    ).toEqual(['mine', 'one', 'two']);
  });

  it('gives every picture its own sidecar, though their contents are the same', async () => {
    const { card, home } = room();
    for (const name of ['A', 'B']) {
      writeFileSync(join(card, `${name}.JPG`), `picture ${name}`);
      writeFileSync(join(card, `${name}.xmp`), 'the same');
    }
    await copy(card, [home], { name: '{name}' });
    expect(
      shown(home)
        .map((path) => basename(path))
        .sort(),
    ).toEqual(['A.JPG', 'A.xmp', 'B.JPG', 'B.xmp']);
  });

  it('writes accents composed, whichever way the card writes them, and long paths whole', async () => {
    const { card, home } = room();
    const deep = join(
      card,
      ...Array.from({ length: 12 }, (_, i) => `${'Blumenwiese am Hang '.repeat(3)}${i}`),
    );
    mkdirSync(deep, { recursive: true });
    writeFileSync(join(deep, 'Blu\u0308te.JPG'), 'decomposed');
    writeFileSync(join(deep, 'Blu\u0308te.xmp'), 'goes with it');
    const document = await copy(card, [home], { name: '{name}' });
    expect(document.allSafe).toBe(true);
    expect(
      shown(home)
        .map((path) => basename(path))
        .sort(),
    ).toEqual(['Bl\u00fcte.JPG', 'Bl\u00fcte.xmp']);
  });

  it('keeps what is no picture too, under its own path', async () => {
    const { card, home } = room();
    renderCard(card, { pictures: 1 });
    mkdirSync(join(card, 'MISC'));
    writeFileSync(join(card, 'MISC', 'ORDER.MRK'), 'print these');
    await copy(card, [home]);
    expect(readFileSync(join(home, 'other', 'MISC', 'ORDER.MRK'), 'utf8')).toBe('print these');
    const again = await copy(card, [home]);
    expect(again.files.every(({ result }) => result === 'alreadyThere')).toBe(true);
  });
});

/** A disk on which, from some moment on, one kind of work fails. */
function failing(
  code: string,
  when: { readonly read?: (path: string) => boolean; readonly write?: (path: string) => boolean },
): Disk {
  const fault = () => Object.assign(new Error(`injected ${code}`), { code });
  const checkRead = (path: string) => {
    if (when.read?.(path)) throw fault();
  };
  return {
    ...nodeDisk,
    async list(path) {
      checkRead(path);
      return nodeDisk.list(path);
    },
    async fileAt(path) {
      checkRead(path);
      return nodeDisk.fileAt(path);
    },
    async read(path) {
      checkRead(path);
      const inner = await nodeDisk.read(path);
      return {
        close: () => inner.close(),
        async read(into) {
          checkRead(path);
          return inner.read(into.subarray(0, 4096));
        },
      };
    },
    async create(path) {
      const inner = await nodeDisk.create(path);
      return {
        ...inner,
        async write(chunk) {
          if (when.write?.(path)) {
            // A full disk takes a part of what is written.
            await inner.write(chunk.subarray(0, chunk.length >> 1));
            throw fault();
          }
          await inner.write(chunk);
        },
      };
    },
  };
}

/** What must hold whatever happened: the card as it was, and under final names only whole files of the card. */
function expectNothingLost(card: string, before: readonly string[], homes: readonly string[]) {
  expect(contents(card)).toEqual(before);
  for (const home of homes) {
    for (const hash of contents(home)) expect(before).toContain(hash);
  }
}

describe('a disk that fails', () => {
  it('that is full leaves nothing half-written, and the other disk is safe', async () => {
    const { card, home, also } = room();
    renderCard(card, { pictures: 4 });
    const before = contents(card);
    let written = 0;
    const full = failing('ENOSPC', { write: (path) => path.startsWith(home) && (written += 1) > 5 });
    const document = await copy(card, [home, also], { disk: full });
    expect(document.allSafe).toBe(false);
    expect(document.files.find(({ result }) => result === 'failed')?.why).toBe('The disk is full.');
    expect(contents(also)).toEqual(before);
    expectNothingLost(card, before, [home, also]);
    expect(filesBelow(home).filter((path) => path.endsWith('.part'))).toEqual([]);
    const again = await copy(card, [home, also]);
    expect(again.allSafe).toBe(true);
    expect(contents(home)).toEqual(before);
  });

  it('a read error loses that file only, and it is copied the next time', async () => {
    const { card, home } = room();
    renderCard(card, { pictures: 4 });
    const before = contents(card);
    let reads = 0;
    const bad = failing('EIO', { read: (path) => path.endsWith('/IMG_0002.CR2') && (reads += 1) > 6 });
    const document = await copy(card, [home], { disk: bad });
    const failed = document.files.filter(({ result }) => result === 'failed');
    expect(failed.map(({ source }) => basename(source))).toEqual(['IMG_0002.CR2']);
    expect(failed[0]?.why).toBe('The card: the disk reports a read error.');
    expectNothingLost(card, before, [home]);
    expect((await copy(card, [home])).allSafe).toBe(true);
    expect(
      shown(home)
        .map((path) => basename(path))
        .filter((name) => name.includes('0002'))
        .sort(),
    ).toEqual(['2026-05-10 IMG_0002.CR2', '2026-05-10 IMG_0002.CR2.xmp', '2026-05-10 IMG_0002.JPG']);
    expect(contents(home)).toEqual(before);
  });

  it('a card that is pulled is noticed, whenever it happens', async () => {
    for (const moment of [1, 7, 20, 40, 60, 90]) {
      const { card, home } = room();
      renderCard(card, { pictures: 4 });
      const before = contents(card);
      let reads = 0;
      const pulled = failing('ENODEV', { read: (path) => path.startsWith(card) && (reads += 1) > moment });
      const document = await copy(card, [home], { disk: pulled }).catch((error: unknown) => error);
      if (document instanceof Error) expect(document.message).toContain('cannot be read');
      else expect(document).toMatchObject({ allSafe: false });
      expectNothingLost(card, before, [home]);
      expect((await copy(card, [home])).allSafe).toBe(true);
      expect(contents(home)).toEqual(before);
    }
  });

  it('that gives back something else than was written is told', async () => {
    const { card, home } = room();
    renderCard(card, { pictures: 1, sidecars: false });
    const forgetful: Disk = {
      ...nodeDisk,
      async read(path) {
        const inner = await nodeDisk.read(path);
        return {
          close: () => inner.close(),
          async read(into) {
            const count = await inner.read(into);
            if (path.endsWith('.part') && count > 100) into[50]! ^= 1;
            return count;
          },
        };
      },
    };
    const document = await copy(card, [home], { disk: forgetful });
    expect(document.files.every(({ result }) => result === 'failed')).toBe(true);
    expect(document.files[0]?.why).toContain('read back differs');
    expect(shown(home)).toEqual([]);
  });
});

describe('a copy that is killed', () => {
  // All 200 moments of the acceptance with TEPAL_KILLS=200; fewer in the fast suite.
  const kills = Number(process.env['TEPAL_KILLS'] ?? 6);

  it(
    `at ${kills} random moments loses nothing, leaves nothing half-written, and goes on`,
    { timeout: 60_000 + kills * 10_000 },
    () => {
      const { card, home } = room();
      renderCard(card, { pictures: 8, bytes: 200_000 });
      const script = join(import.meta.dirname, 'fixtures', 'kill-copy.mjs');
      const said = execFileSync(process.execPath, [script, card, home, String(kills)], { encoding: 'utf8' });
      const result = JSON.parse(said) as {
        kills: number;
        midway: number;
        finished: number;
        faults: string[];
      };
      expect(result.faults).toEqual([]);
      expect(result.kills).toBe(kills);
      expect(result.midway).toBeGreaterThan(kills / 4);
    },
  );
});
