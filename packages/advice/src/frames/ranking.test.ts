import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rankSeries, sharpnessOf, type FrameToRank } from './ranking.ts';

type Blur = FrameToRank['blur'];

function frame(file: string, sigmaPx: number | null, rest: Partial<FrameToRank> = {}): FrameToRank {
  const blur: Blur = {
    sigmaPx,
    sigmaLowPx: sigmaPx,
    sigmaHighPx: sigmaPx,
    cause: 'unclear',
    confidence: 0.5,
    motion: null,
    moved: null,
  };
  return {
    file,
    kind: 'jpeg',
    blur,
    clipped: { red: 0, green: 0, blue: 0 },
    evennessStops: 3,
    clutter: 0.3,
    ...rest,
  };
}

const anySeries = fc
  .array(
    fc.record({
      sigmaPx: fc.option(fc.double({ min: 0, max: 12, noNaN: true })),
      red: fc.double({ min: 0, max: 1, noNaN: true }),
      evennessStops: fc.option(fc.double({ min: 0, max: 8, noNaN: true })),
      clutter: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
    }),
    { maxLength: 25 },
  )
  .map((list) =>
    list.map(({ sigmaPx, red, evennessStops, clutter }, i) =>
      frame(`IMG_${String(i)}.JPG`, sigmaPx, {
        clipped: { red, green: 0, blue: 0 },
        evennessStops,
        clutter,
      }),
    ),
  );

const files = (frames: readonly FrameToRank[], limitPx = 1) =>
  rankSeries(frames, limitPx).map(({ file }) => file);

describe('ranking, laws', () => {
  it('ranks are 1 to n, each file once, each with a reason', () => {
    fc.assert(
      fc.property(anySeries, (frames) => {
        const ranked = rankSeries(frames, 1);
        expect(ranked.map(({ rank }) => rank)).toEqual(frames.map((_, i) => i + 1));
        expect(ranked.map(({ file }) => file).sort()).toEqual(frames.map(({ file }) => file).sort());
        expect(ranked.every(({ reasons }) => reasons.length > 0)).toBe(true);
      }),
      { seed: 20_265 },
    );
  });

  it('does not depend on the order in which the frames come', () => {
    fc.assert(
      fc.property(anySeries, (frames) => {
        expect(rankSeries([...frames].reverse(), 1)).toEqual(rankSeries(frames, 1));
      }),
      { seed: 20_266 },
    );
  });

  it('never ranks a frame worse for being sharper', () => {
    fc.assert(
      fc.property(anySeries, fc.double({ min: 0, max: 1, noNaN: true }), (frames, factor) => {
        const first = frames[0];
        if (first === undefined || first.blur.sigmaPx === null) return;
        const sharper = { ...first, blur: { ...first.blur, sigmaPx: first.blur.sigmaPx * factor } };
        const before = files(frames).indexOf(first.file);
        expect(files([sharper, ...frames.slice(1)]).indexOf(first.file)).toBeLessThanOrEqual(before);
      }),
      { seed: 20_267 },
    );
  });

  it('never says softer, or sharpest, against the numbers', () => {
    fc.assert(
      fc.property(anySeries, (frames) => {
        const ranked = rankSeries(frames, 1);
        const sigmaOf = (file: string) => frames.find((f) => f.file === file)?.blur.sigmaPx ?? null;
        const bests = sigmaOf(ranked[0]?.file ?? '');
        for (const { file, reasons } of ranked) {
          const own = sigmaOf(file);
          const said = reasons.join('; ');
          if (said.startsWith('softer')) expect(own ?? -1).toBeGreaterThan(bests ?? Infinity);
          if (said.startsWith('the sharpest')) {
            expect(frames.every((f) => (f.blur.sigmaPx ?? Infinity) >= (own ?? Infinity))).toBe(true);
          }
          expect(said.includes('cannot be told')).toBe(own === null);
        }
      }),
      { seed: 20_268 },
    );
  });
});

describe('ranking, known cases', () => {
  it('puts "cannot tell" behind the nearly sharp and before the soft', () => {
    const frames = [frame('soft', 3), frame('none', null), frame('nearly', 1.3), frame('sharp', 0.8)];
    expect(files(frames)).toEqual(['sharp', 'nearly', 'none', 'soft']);
  });

  it('lets burnt petals decide between two that are equally sharp', () => {
    const burnt = frame('burnt', 0.78, { clipped: { red: 0.12, green: 0, blue: 0 } });
    const ranked = rankSeries([burnt, frame('whole', 0.79)], 1);
    expect(ranked[0]).toEqual({
      file: 'whole',
      rank: 1,
      reasons: [
        '0.79 px at the point against 0.78 px in the sharpest, too close to tell',
        'red burnt on 12 % round the point against none',
      ],
    });
    expect(ranked[1]?.reasons).toEqual([
      'as sharp as the best as far as can be told: 0.8 px',
      'red burnt on 12 % round the point against none',
    ]);
  });

  it('does not let burnt petals outweigh a blur that can be told apart', () => {
    const burnt = frame('burnt', 0.8, { clipped: { red: 0.5, green: 0, blue: 0 } });
    expect(files([frame('whole', 1.2), burnt])).toEqual(['burnt', 'whole']);
  });

  it('goes on to even light, then to a calm background, then to the name', () => {
    const uneven = frame('b', 0.8, { evennessStops: 5 });
    const busy = frame('a', 0.8, { clutter: 0.7 });
    expect(files([uneven, busy, frame('d', 0.8), frame('c', 0.8)])).toEqual(['c', 'd', 'a', 'b']);
  });

  it('says what it can of one frame', () => {
    expect(rankSeries([frame('a', 0.8)], 1)[0]?.reasons).toEqual([
      'the only frame: 0.8 px at the point, sharp',
    ]);
    expect(rankSeries([frame('a', null)], 1)[0]?.reasons).toEqual([
      'the only frame; how sharp it is cannot be told',
    ]);
    expect(rankSeries([], 1)).toEqual([]);
  });

  it('refuses to mix kinds of file, a file twice, and a limit of 0', () => {
    expect(() => rankSeries([frame('a', 1), frame('b', 1, { kind: 'raw' })], 1)).toThrow(
      'expected frames of one kind of file for frames but received "jpeg and raw"',
    );
    expect(() => rankSeries([frame('a', 1), frame('a', 1)], 1)).toThrow('each file once');
    expect(() => rankSeries([], 0)).toThrow('limitPx');
  });
});

describe('sharp, nearly, soft', () => {
  it.each([
    [0.5, 'sharp'],
    [1, 'sharp'],
    [1.01, 'nearly'],
    [1.5, 'nearly'],
    [1.51, 'soft'],
    [null, 'cannotTell'],
  ] as const)('%s px at a limit of 1 px is %s', (sigmaPx, words) => {
    expect(sharpnessOf(sigmaPx, 1)).toBe(words);
  });
});
