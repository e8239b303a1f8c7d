import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupIntoSeries, type FrameToGroup } from './series.ts';

interface Simulated extends FrameToGroup {
  readonly truth: number;
  readonly takenAtMs: number;
}

/** Park and Miller's generator, so that a simulated day is the same each time. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

function frameAt(file: string, takenAtMs: number | null, change: Partial<FrameToGroup> = {}): FrameToGroup {
  return {
    file,
    takenAtMs,
    kind: 'jpeg',
    widthPx: 6000,
    heightPx: 4000,
    exposure: { fNumber: 8, exposureTimeS: 1 / 250, iso: 800, focalLengthMm: 100 },
    ...change,
  };
}

/**
 * A day as photographers tell of it (practice 1.3, 1.4): 40 subjects or angles, bursts of 3 to 5 with some seconds between,
 * pauses for a lull, walks of 20 s to 15 min to the next; a whole-second clock; the shutter and f-number tried now and
 * then. Ten frames a series on average, from 1 to 30. Sizes, gaps and likenesses are our invention.
 */
function simulatedDay(seed: number): Simulated[] {
  const random = generator(seed);
  const sizes = Array.from({ length: 40 }, () => 1 + Math.floor(random() ** 1.5 * 24));
  const frames: Simulated[] = [];
  let timeMs = 0;
  sizes.forEach((size, truth) => {
    timeMs += 20_000 + random() ** 2 * 900_000;
    let exposureTimeS = 1 / 250;
    let fNumber = 8;
    for (let i = 0; i < size; i++) {
      const inBurst = i % 4 !== 0;
      timeMs += inBurst ? 150 + random() * 400 : 3_000 + random() * 15_000 + (random() < 0.1 ? 90_000 : 0);
      if (random() < 0.08) exposureTimeS = random() < 0.5 ? 1 / 125 : 1 / 500;
      if (random() < 0.04) fNumber = random() < 0.5 ? 5.6 : 11;
      const exposure = { fNumber, exposureTimeS, iso: 800, focalLengthMm: 100 };
      const takenAtMs = Math.floor(timeMs / 1000) * 1000;
      const file = `IMG_${String(frames.length + 1).padStart(4, '0')}.JPG`;
      frames.push({ ...frameAt(file, takenAtMs, { exposure }), truth, takenAtMs });
    }
  });
  return frames;
}

/** Likeness as registration gives it, with noise: 0.6 to 1 within a series, 0.1 to 0.6 across. */
function simulatedLikeness(seed: number) {
  return (a: Simulated, b: Simulated) => {
    const pair =
      (Number(a.file.slice(4, 8)) * 7919 + Number(b.file.slice(4, 8)) * 104_729 + seed) % 2_147_483_647;
    const r = generator(pair + 1);
    r();
    return a.truth === b.truth ? 1 - 0.4 * r() ** 2 : 0.1 + 0.5 * r();
  };
}

function pairwiseF(groups: readonly (readonly Simulated[])[]): number {
  const all = groups.flat();
  const sameTruth = pairsOf(countsByTruth(all));
  const together = pairsOf(groups.map((g) => g.length));
  const both = pairsOf(groups.flatMap((g) => countsByTruth(g)));
  return (2 * both) / (sameTruth + together);
}

function countsByTruth(frames: readonly Simulated[]): number[] {
  const counts = new Map<number, number>();
  for (const { truth } of frames) counts.set(truth, (counts.get(truth) ?? 0) + 1);
  return [...counts.values()];
}

const pairsOf = (sizes: readonly number[]) => sizes.reduce((sum, n) => sum + (n * (n - 1)) / 2, 0);

function shuffled<T>(values: readonly T[], seed: number): T[] {
  const random = generator(seed);
  return values
    .map((value) => ({ value, at: random() }))
    .sort((a, b) => a.at - b.at)
    .map(({ value }) => value);
}

describe('grouping a simulated day of 40 series and about 400 frames', () => {
  it.each([11, 23, 37, 51, 77])('reaches a pairwise F of 0.95 (seed %i)', (seed) => {
    const frames = simulatedDay(seed);
    expect(frames.length).toBeGreaterThan(280);
    const groups = groupIntoSeries(frames, simulatedLikeness(seed)).map(({ frames: group }) => group);
    expect(pairwiseF(groups)).toBeGreaterThanOrEqual(0.95);
  });

  it.each([11, 23])('does without times, by names and likeness (seed %i)', (seed) => {
    const frames = simulatedDay(seed);
    const likeness = simulatedLikeness(seed);
    const byFile = new Map(frames.map((frame) => [frame.file, frame]));
    const truthOf = (frame: FrameToGroup) => byFile.get(frame.file) as Simulated;
    const groups = groupIntoSeries(
      frames.map((frame) => frameAt(frame.file, null)),
      (a, b) => likeness(truthOf(a), truthOf(b)),
    );
    expect(pairwiseF(groups.map((group) => group.frames.map(truthOf)))).toBeGreaterThanOrEqual(0.9);
  });
});

const anyFrames = fc
  .uniqueArray(
    fc.record({
      number: fc.integer({ min: 1, max: 400 }),
      atS: fc.option(fc.integer({ min: 0, max: 4_000 })),
      kind: fc.constantFrom('jpeg' as const, 'raw' as const),
      turned: fc.boolean(),
      fNumber: fc.option(fc.constantFrom(5.6, 8, 11)),
    }),
    { selector: ({ number }) => number, maxLength: 40 },
  )
  .map((list) =>
    list.map(({ number, atS, kind, turned, fNumber }) =>
      frameAt(`IMG_${String(number)}.JPG`, atS === null ? null : atS * 1000, {
        kind,
        widthPx: turned ? 4000 : 6000,
        heightPx: turned ? 6000 : 4000,
        exposure: { fNumber, exposureTimeS: null, iso: null, focalLengthMm: null },
      }),
    ),
  );

const likenessByName = (a: FrameToGroup, b: FrameToGroup) => ((a.file.length + b.file.length) % 3) / 2;

describe('grouping, laws', () => {
  it('does not depend on the order in which the frames come', () => {
    fc.assert(
      fc.property(anyFrames, fc.integer({ min: 1, max: 1e6 }), (frames, seed) => {
        const groups = groupIntoSeries(frames, likenessByName);
        expect(groupIntoSeries(shuffled(frames, seed), likenessByName)).toEqual(groups);
      }),
      { seed: 20_261 },
    );
  });

  it('puts every frame into one series, named after its first, of one kind and orientation', () => {
    fc.assert(
      fc.property(anyFrames, (frames) => {
        const groups = groupIntoSeries(frames, likenessByName);
        expect(groups.flatMap((group) => group.frames.map(({ file }) => file)).sort()).toEqual(
          frames.map(({ file }) => file).sort(),
        );
        for (const { id, frames: group } of groups) {
          expect(id).toBe(group[0]?.file);
          expect(new Set(group.map(({ kind, widthPx }) => `${kind} ${String(widthPx)}`)).size).toBe(1);
        }
      }),
      { seed: 20_262 },
    );
  });

  it('does not depend on the hour or the zone of the camera clock', () => {
    fc.assert(
      fc.property(anyFrames, fc.integer({ min: -1e9, max: 1e9 }), (frames, shiftMs) => {
        const later = frames.map((frame) => ({
          ...frame,
          takenAtMs: frame.takenAtMs === null ? null : frame.takenAtMs + shiftMs,
        }));
        const files = (list: readonly FrameToGroup[]) =>
          groupIntoSeries(list, likenessByName).map((group) => group.frames.map(({ file }) => file));
        expect(files(later)).toEqual(files(frames));
      }),
      { seed: 20_263 },
    );
  });
});

describe('grouping, known cases', () => {
  const notLooked = () => null;
  const filesOf = (
    frames: readonly FrameToGroup[],
    likeness: (a: FrameToGroup, b: FrameToGroup) => number | null,
  ) => groupIntoSeries(frames, likeness).map((group) => group.frames.map(({ file }) => file));

  it('gives no series for no frames', () => {
    expect(groupIntoSeries([], notLooked)).toEqual([]);
  });

  it('leaves frames alone when neither times nor likeness join them', () => {
    expect(filesOf([frameAt('a.jpg', null), frameAt('b.jpg', null)], notLooked)).toEqual([
      ['a.jpg'],
      ['b.jpg'],
    ]);
  });

  it('starts a new series when the same flower is taken from a new angle within seconds', () => {
    const frames = [0, 2, 4, 7, 9, 11].map((s, i) => frameAt(`${String(i)}.jpg`, s * 1000));
    const angle = (frame: FrameToGroup) => (Number(frame.file[0]) < 3 ? 'front' : 'side');
    expect(filesOf(frames, (a, b) => (angle(a) === angle(b) ? 0.92 : 0.3))).toEqual([
      ['0.jpg', '1.jpg', '2.jpg'],
      ['3.jpg', '4.jpg', '5.jpg'],
    ]);
  });

  it('keeps a series together through a wait of two minutes for a lull', () => {
    const frames = [0, 1, 2, 122, 123, 124].map((s, i) => frameAt(`${String(i)}.jpg`, s * 1000));
    expect(filesOf(frames, () => 0.9)).toHaveLength(1);
  });

  it('splits by the pause alone when nobody looked at the pictures', () => {
    const frames = [0, 1, 2, 300, 301, 302].map((s, i) => frameAt(`${String(i)}.jpg`, s * 1000));
    expect(filesOf(frames, notLooked)).toHaveLength(2);
  });

  it('takes a stray test frame out of the middle of a series', () => {
    const frames = [0, 2, 4, 6, 8].map((s, i) => frameAt(`${String(i)}.jpg`, s * 1000));
    const likeness = (a: FrameToGroup, b: FrameToGroup) => ([a.file, b.file].includes('2.jpg') ? 0.1 : 0.95);
    expect(filesOf(frames, likeness)).toEqual([['0.jpg', '1.jpg', '3.jpg', '4.jpg'], ['2.jpg']]);
  });

  it('starts a new series with another focal length', () => {
    const exposure = { fNumber: 8, exposureTimeS: 1 / 250, iso: 800, focalLengthMm: 60 };
    const frames = [frameAt('1.jpg', 0), frameAt('2.jpg', 1000, { exposure })];
    expect(filesOf(frames, () => 0.95)).toHaveLength(2);
  });

  it('takes camera numbers in their order: 9 before 10', () => {
    const frames = ['IMG_10.JPG', 'IMG_9.JPG', 'IMG_11.JPG'].map((file) => frameAt(file, null));
    expect(filesOf(frames, () => 0.95)).toEqual([['IMG_9.JPG', 'IMG_10.JPG', 'IMG_11.JPG']]);
  });
});
