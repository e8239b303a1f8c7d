import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { readDocument } from '@tepal/formats';
import {
  change,
  createNotebook,
  startNotebooks,
  writeFrameEvidence,
  type FrameEvidence,
  type Notebook,
} from '@tepal/notebook';
import { beforeAll, describe, expect, it } from 'vitest';
import { gatherEvidence } from './gather.ts';
import { learnDocument } from './learn-document.ts';

beforeAll(async () => {
  await startNotebooks(
    readFileSync(createRequire(import.meta.url).resolve('@automerge/automerge/automerge.wasm')),
  );
});

const hash = (i: number) => i.toString(16).padStart(64, '0');
/** Ten past five by the wall, two hours east of UTC. */
const wall = Date.UTC(2026, 5, 14, 5, 10, 0);

const frame = (i: number, more: Partial<FrameEvidence> = {}): FrameEvidence => ({
  hash: hash(i),
  takenAtMs: wall + i * 5000,
  ...{ sigmaPx: 1.2, sigmaLowPx: 1.1, sigmaHighPx: 1.3, cause: 'sharp', confidence: 0.8, moved: null },
  ...{ widthPx: 4000, heightPx: 6000, fNumber: 8, exposureTimeS: 1 / 125, focalLengthMm: 100 },
  ...{ fileKind: 'jpeg', series: 's1', fileNumber: 400 + i, camera: 'A camera' },
  ...more,
});

function notebookWith(frames: readonly FrameEvidence[]): Notebook {
  return change(createNotebook(), { message: 'all', timeMs: 0 }, (pen) => {
    pen.put('kit', {
      ...{ id: 'cam', part: 'camera', name: 'A camera', sensorWidthMm: 36, sensorHeightMm: 24 },
      ...{ widthPx: 6000, heightPx: 4000, notes: '' },
    });
    pen.put('kit', {
      ...{ id: 'lens', part: 'lens', name: 'A 100', focalLengthMm: 100, pupilMagnification: null },
      ...{ minFNumber: 2.8, maxFNumber: 32, maxMagnification: 1, stabilisationStops: 0, notes: '' },
    });
    pen.put('outing', {
      ...{ id: 'o', siteId: null, startedAt: '2026-06-14T05:00:00+02:00', endedAt: null, found: null },
      forecast: {
        ...{ source: 'A service', issuedAt: null, windSpeedMs: 3, gustSpeedMs: null, temperatureC: null },
        ...{ relativeHumidity: null, cloudShare: null },
      },
      ...{ feltWindBeaufort: 1, cameraClockOffsetS: 60, notes: '' },
    });
    pen.put('setUp', {
      // True time 05:10:30 by the wall: the camera's clock is a minute slow, so before frame 0.
      ...{
        id: 'u',
        outingId: 'o',
        subjectId: null,
        wantedPictureId: null,
        at: '2026-06-14T03:10:30Z',
        position: null,
      },
      ...{
        cameraId: 'cam',
        lensId: 'lens',
        support: 'elbows',
        magnification: 0.4,
        backgroundDistanceMm: null,
      },
      ...{ lightModifierIds: [], exposure: null, notes: '' },
    });
    pen.put('evidence', {
      ...{ id: 'e', outingId: 'o', day: null, notes: '' },
      frames: Object.fromEntries(frames.map((one) => [one.hash, writeFrameEvidence(one)])),
    });
  });
}

describe('what can be learned from', () => {
  it('is brought together by time, clock and kit', () => {
    const { outings, unused } = gatherEvidence(notebookWith([frame(0), frame(1), frame(4)]));
    expect(unused).toEqual([]);
    expect(outings).toHaveLength(1);
    expect(outings[0]!.series).toMatchObject([
      { magnification: 0.4, support: 'elbows', stem: 'unknown', subjectId: null, deleted: 2 },
    ]);
    const [first, second] = outings[0]!.series[0]!.frames;
    expect(first).toMatchObject({ pixelUm: 6, lens: 'A 100', afterS: null, stabilisation: 0 });
    expect(second!.afterS).toBeCloseTo(5, 6);
    // FS W-29: 0.84 m/s at Beaufort 1.
    expect(outings[0]!.feltWindMs).toBeCloseTo(0.84, 2);
    expect(outings[0]!.forecastWindMs).toBeGreaterThan(0);
    expect(outings[0]!.forecastWindMs).toBeLessThan(3);
  });

  it('leaves out what is not known, and says why', () => {
    const { outings, unused } = gatherEvidence(
      notebookWith([
        frame(0, { sigmaPx: null }),
        frame(1, { fNumber: null }),
        frame(2, { focalLengthMm: 400 }),
      ]),
    );
    // The set-up names its lens, so another focal length in the file does not matter.
    expect(outings[0]!.series[0]!.frames).toHaveLength(1);
    expect(unused.map(({ frames }) => frames)).toEqual([1, 1]);
  });

  it('makes the document of the contract, the priors where there are no frames', () => {
    const document = learnDocument(notebookWith([frame(0), frame(1), frame(2)]));
    expect(readDocument(JSON.parse(JSON.stringify(document)))).toMatchObject({ ok: true });
    expect(document.frames).toBe(3);
    const hands = document.parameters.find(({ name }) => name === 'hands elbows')!;
    expect(hands.frames).toBe(3);
    expect(hands['saying']).toContain('from 3 of your frames');
    for (const parameter of learnDocument(createNotebook()).parameters) {
      expect(parameter.frames).toBe(0);
      expect(parameter.posterior.median).toBeCloseTo(parameter.prior.median, 9);
      expect(parameter.posterior.interval90[0]).toBeCloseTo(parameter.prior.interval90[0], 9);
    }
  });
});
