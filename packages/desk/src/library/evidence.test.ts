// Measured frames become evidence by the hash of their file, outing by outing, once however often they are taken.
import { change, createNotebook, find, list, readFrameEvidence } from '@tepal/notebook';
import type { MeasuredFrame } from '@tepal/formats';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { takeEvidence } from './evidence.ts';
import { openLibrary, type Library, type StoredFrame } from './library.ts';
import { readyNotebooks } from './notebook-file.ts';

let folder: string;
let library: Library;
beforeAll(readyNotebooks);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-evidence-'));
  library = openLibrary(folder);
});
afterEach(() => {
  library.close();
  rmSync(folder, { recursive: true, force: true });
});

const id = (i: number) => `sha256:${i.toString(16).padStart(64, '0')}`;
const exposure = { fNumber: 8, exposureTimeS: 0.004, iso: 400, focalLengthMm: 100 };

function put(i: number, takenAtMs: number) {
  const facts = {
    widthPx: 6000,
    heightPx: 4000,
    takenAt: null,
    takenAtMs,
    camera: 'A camera',
    exposure,
    madeByTepal: false,
  };
  const stored = {
    id: id(i),
    path: `/p/IMG_${100 + i}.JPG`,
    kind: 'jpeg',
    bytes: 1,
    modifiedMs: 0,
    guess: { x: 0.5, y: 0.5 },
  };
  library.putFrame({ ...stored, facts } as StoredFrame, Buffer.alloc(4));
  const blur = {
    sigmaPx: 1,
    sigmaLowPx: 0.9,
    sigmaHighPx: 1.1,
    cause: 'sharp',
    confidence: 0.8,
    motion: null,
    moved: null,
  };
  const measured = { file: `IMG_${100 + i}.JPG`, series: 'a', widthPx: 6000, heightPx: 4000, exposure, blur };
  return { id: id(i), measured: measured as unknown as MeasuredFrame };
}

it('takes what was measured once, and keeps it when the frames are gone', () => {
  const morning = Date.UTC(2026, 5, 14, 5, 30);
  const frames = [put(1, morning), put(2, morning + 5000), put(3, morning + 86_400_000)];
  library.putMeasuring('/p', { frames, series: [], failed: [] }, '2026-06-15T09:00:00Z');
  const begun = change(createNotebook(), { message: 'out', timeMs: 0 }, (pen) =>
    pen.put('outing', {
      ...{
        id: 'o',
        siteId: null,
        startedAt: '2026-06-14T05:00:00+02:00',
        endedAt: '2026-06-14T07:00:00+02:00',
      },
      ...{ forecast: null, found: null, feltWindBeaufort: null, cameraClockOffsetS: null, notes: '' },
    }),
  );
  const taken = takeEvidence(begun, library, 0);
  expect(taken).toMatchObject({ frames: 3, fresh: 3 });
  expect(list(taken.notebook, 'evidence').map(({ id: name, outingId }) => [name, outingId])).toEqual([
    ['evidence-day-2026-06-15', null],
    ['evidence-o', 'o'],
  ]);
  const hash = id(2).slice(7);
  const line = find(taken.notebook, 'evidence', 'evidence-o')!.frames[hash]!;
  expect(readFrameEvidence(hash, line)).toMatchObject({
    ...{ sigmaPx: 1, fileNumber: 102, fileKind: 'jpeg', takenAtMs: morning + 5000, series: 'a' },
  });
  expect(takeEvidence(taken.notebook, library, 0)).toMatchObject({ fresh: 0 });

  library.putMeasuring('/p', { frames: frames.slice(0, 1), series: [], failed: [] }, '2026-06-16T09:00:00Z');
  const again = takeEvidence(taken.notebook, library, 0);
  expect(Object.keys(find(again.notebook, 'evidence', 'evidence-o')!.frames)).toHaveLength(2);
});
