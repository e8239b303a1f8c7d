// A backup put back gives the notebook with its history and every choice; what is there already stays.
import { change, createNotebook, history, list, sameNotebook } from '@tepal/notebook';
import { readZip } from '@tepal/formats';
import { mkdirSync, mkdtempSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { contentHash } from '../files/hash.ts';
import { openLibrary, type Library, type StoredFrame } from '../library/library.ts';
import { readyNotebooks } from '../library/notebook-file.ts';
import { backupOf } from './backup.ts';
import { checkLibrary } from './check-library.ts';
import { readBackup, restoreChoices } from './restore.ts';

let folder: string;
let library: Library;
beforeAll(readyNotebooks);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-keep-'));
  library = openLibrary(join(folder, 'library'));
});
afterEach(() => {
  library.close();
  rmSync(folder, { recursive: true, force: true });
});

const notebook = () =>
  change(createNotebook({ authorId: 'aa' }), { message: 'free', timeMs: 0 }, (pen) =>
    pen.put('freeHours', {
      ...{ id: 'f', from: '2026-06-14T05:00:00Z', to: '2026-06-14T07:00:00Z', repeats: 'once' },
      label: 'early, "before work"',
    }),
  );

describe('a backup', () => {
  const choose = (into: Library) => {
    into.decide('sha256:1', 'keep');
    into.decide('sha256:2', 'out');
    into.setPoint('sha256:1', { x: 0.25, y: 0.75 });
    into.setName('/photographs, "June"', 's1', 'the scabious\nby the gate');
  };

  it('holds everything, in formats that anything reads, and puts it back', () => {
    choose(library);
    const { bytes, manifest } = backupOf(notebook(), library, Date.UTC(2026, 5, 14));
    const zip = readZip(bytes);
    if (!zip.ok) throw new Error(zip.fault.message);
    expect([...zip.value.keys()].sort()).toEqual(
      [...manifest.files.map(({ name }) => name), 'manifest.json'].sort(),
    );
    expect(JSON.parse(new TextDecoder().decode(zip.value.get('notebook/freeHours.json')))).toMatchObject([
      { id: 'f' },
    ]);

    const backup = readBackup(bytes, 'backup.zip');
    expect(sameNotebook(backup.notebook, notebook())).toBe(true);
    expect(list(backup.notebook, 'freeHours')).toEqual(list(notebook(), 'freeHours'));
    expect(history(backup.notebook).map(({ message }) => message)).toContain('free');
    const other = openLibrary(join(folder, 'other'));
    other.decide('sha256:2', 'maybe');
    expect(restoreChoices(backup, other)['decisions']).toEqual({ putBack: 1, kept: 1 });
    expect(other.decision('sha256:1')).toBe('keep');
    expect(other.decision('sha256:2')).toBe('maybe');
    expect(other.points().get('sha256:1')).toEqual({ x: 0.25, y: 0.75 });
    other.close();
  });

  it('that is damaged, or none, is refused before anything is put back', () => {
    const { bytes } = backupOf(notebook(), library, Date.UTC(2026, 5, 14));
    expect(() => readBackup(bytes.subarray(0, bytes.length - 40), 'b.zip')).toThrow('b.zip');
    expect(() => readBackup(new TextEncoder().encode('a letter'), 'b.zip')).toThrow('b.zip');
  });
});

describe('a check of the library', () => {
  it('finds what is missing, what changed and what belongs to nothing', async () => {
    const photographs = join(folder, 'photographs');
    mkdirSync(photographs);
    const stored = (name: string): StoredFrame => {
      const path = join(photographs, name);
      writeFileSync(path, name);
      const { size, mtimeMs } = statSync(path);
      return {
        ...{
          id: contentHash(new TextEncoder().encode(name)),
          path,
          kind: 'jpeg',
          bytes: size,
          modifiedMs: mtimeMs,
        },
        facts: {
          ...{
            widthPx: 600,
            heightPx: 400,
            takenAt: null,
            takenAtMs: null,
            camera: null,
            madeByTepal: false,
          },
          exposure: { fNumber: null, exposureTimeS: null, iso: null, focalLengthMm: null },
        } as StoredFrame['facts'],
        guess: { x: 0.5, y: 0.5 },
      };
    };
    const frames = ['well.jpg', 'gone.jpg', 'longer.jpg', 'same length'].map(stored);
    for (const frame of frames) library.putFrame(frame, Buffer.alloc(4));
    const measured = frames.map(({ id, path }) => ({ id, measured: { file: path, series: 'a' } as never }));
    library.putMeasuring(photographs, { frames: measured, series: [], failed: [] }, '2026-06-14T09:00:00Z');
    library.decide('sha256:nobody', 'keep');
    expect(await checkLibrary(library, { deep: true })).toMatchObject({
      frames: 4,
      missing: [],
      changed: [],
    });

    rmSync(frames[1]!.path);
    writeFileSync(frames[2]!.path, 'longer than before');
    writeFileSync(frames[3]!.path, 'SAME LENGTH');
    utimesSync(frames[3]!.path, new Date(frames[3]!.modifiedMs), new Date(frames[3]!.modifiedMs));
    const quick = await checkLibrary(library, { deep: false });
    expect(quick.missing).toEqual([frames[1]!.path]);
    expect(quick.changed).toEqual([expect.stringContaining('longer.jpg')]);
    expect(quick.orphaned).toEqual([expect.stringContaining('sha256:nobody')]);
    const deep = await checkLibrary(library, { deep: true });
    expect(deep.changed).toHaveLength(2);
  });
});
