import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeQuestions, type FrameBeforeJudge } from './judge.ts';
import { shortList, type FrameToShortList } from './short-list.ts';

const frame = (file: string, series: string, rank: number, sigmaPx: number | null): FrameToShortList => ({
  ...{ file, series, rank },
  blur: {
    ...{ sigmaPx, sigmaLowPx: null, sigmaHighPx: null },
    ...{ cause: 'sharp', confidence: 0.9, motion: null, moved: null },
  },
  clipped: { red: 0, green: 0, blue: 0 },
});
const limitPxOf = () => 1;

describe('the short list', () => {
  const outing = [
    ...[1, 2, 3, 4].map((rank) => frame(`A${rank}.JPG`, 'A1.JPG', rank, 0.6 + rank / 50)),
    ...[1, 2].map((rank) => frame(`B${rank}.JPG`, 'B1.JPG', rank, 0.9)),
    frame('C1.JPG', 'C1.JPG', 1, 1.3),
    frame('D1.JPG', 'D1.JPG', 1, null),
    frame('E1.JPG', 'E1.JPG', 1, 4),
  ];
  it('takes the best of each series before a second of any, and never a soft frame', () => {
    const files = shortList(outing, { limitPxOf }).map(({ frame: { file } }) => file);
    expect(files.slice(0, 4)).toEqual(['A1.JPG', 'B1.JPG', 'C1.JPG', 'D1.JPG']);
    expect(files).not.toContain('E1.JPG');
  });
  it('puts a frame that looks like one already chosen behind one that does not', () => {
    const twins = (a: FrameToShortList, b: FrameToShortList) =>
      [a, b].every(({ file }) => file < 'C') ? 1 : 0;
    const files = shortList(outing, { limitPxOf, likeness: twins, most: 3 }).map(({ frame: f }) => f.file);
    expect(files.slice(0, 2)).toEqual(['A1.JPG', 'C1.JPG']);
  });
  it('does not depend on the order given, and a longer list begins with the shorter one', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(outing, { minLength: outing.length }), (shuffled) => {
        const long = shortList(shuffled, { limitPxOf, most: 8 });
        expect(long).toEqual(shortList(outing, { limitPxOf, most: 8 }));
        expect(shortList(shuffled, { limitPxOf, most: 3 })).toEqual(long.slice(0, 3));
      }),
      { seed: 7, numRuns: 30 },
    );
  });
  it('says why', () => {
    expect(shortList(outing, { limitPxOf })[0]!.why).toBe('the best of its series, sharp');
    expect(shortList([], { limitPxOf })).toEqual([]);
  });
});

describe("a judge's questions", () => {
  const box = { x: 0.2, y: 0.02, width: 0.5, height: 0.98 };
  const known: FrameBeforeJudge = {
    frame: {
      point: { x: 0.5, y: 0.4, origin: 'marked' },
      blur: frame('a', 'a', 1, 0.6).blur,
      clipped: { red: 0.04, green: 0, blue: 0 },
    },
    limitPx: 1,
    subject: {
      box,
      touches: ['bottom'],
      room: { left: 0.2, right: 0.3, top: 0.02, bottom: 0 },
      share: 0.4,
    },
    around: [{ box: { x: 0.7, y: 0.1, width: 0.1, height: 0.1 }, meanLuma: 240, burntShare: 0 }],
    onSubject: [],
  };
  it('asks of burnt colour, what touches, what is cut and how much room there is, each with its spot', () => {
    const asked = judgeQuestions(known);
    expect(asked.map(({ about }) => about)).toEqual(['burnt', 'eye', 'whole', 'room']);
    expect(asked[1]!.question).toBe('Does this bright patch touch the subject?');
    expect(asked[2]!.question).toBe('The subject reaches the bottom: is it meant to be cut there?');
    expect(asked[3]!.question).toBe('2 % of the height is left at the top: is that room enough?');
    for (const { spot } of asked) {
      expect(spot.x).toBeGreaterThanOrEqual(0);
      expect(spot.x + spot.width).toBeLessThanOrEqual(1 + 1e-9);
      expect(spot.y + spot.height).toBeLessThanOrEqual(1 + 1e-9);
    }
  });
  it('asks whether a guessed point is the one, and of a soft one whether it will do', () => {
    const guessed = { ...known.frame, point: { x: 0, y: 1, origin: 'guessed' as const } };
    expect(judgeQuestions({ ...known, frame: guessed })[0]!.question).toMatch(/guessed/);
    const soft = { ...known.frame, blur: { ...known.frame.blur, sigmaPx: 2, cause: 'defocus' as const } };
    expect(judgeQuestions({ ...known, frame: soft })[0]!.question).toBe(
      'Here it is 2.0 px, out of focus: is it sharp where it counts?',
    );
  });
  it('asks nothing where nothing was found', () => {
    const clean = { ...known.frame, clipped: { red: 0, green: 0, blue: 0 } };
    expect(judgeQuestions({ ...known, frame: clean, subject: null, around: [] })).toEqual([]);
  });
});
