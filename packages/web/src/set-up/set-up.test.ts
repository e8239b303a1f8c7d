import { exposureAdvice } from '@tepal/advice';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerSentence } from './answer/answer-words.ts';
import { contourPath, crossingAtRight, crossingInColumn } from './drawing/contours.ts';
import { flowerStrokes, scaleWords, sliceScale } from './drawing/flower-shape.ts';
import { hourHere } from './hour-here.ts';
import { firstInputs } from './question/inputs.ts';
import { requestFrom } from './question/request.ts';
import { stepFrom, steps } from './question/steps.ts';

describe('the steppers', () => {
  it('go to the next step, from between two as well, and stop at the ends', () => {
    expect(stepFrom([1, 2, 4], 2, 1)).toBe(4);
    expect(stepFrom([1, 2, 4], 3, 1)).toBe(4);
    expect(stepFrom([1, 2, 4], 3, -1)).toBe(2);
    expect(stepFrom([1, 2, 4], 4, 1)).toBe(4);
    expect(stepFrom([1, 2, 4], 1, -1)).toBe(1);
  });

  it('reach every step from the first, and make a question that can be answered at each', () => {
    for (const magnification of steps.magnification) {
      const advice = exposureAdvice(requestFrom({ ...firstInputs, magnification }));
      expect(advice.recommended.iso).toBeGreaterThan(0);
    }
  });
});

describe('the answer in one sentence', () => {
  const advice = exposureAdvice(requestFrom(firstInputs));

  it('says how many, with the range and whose hands', () => {
    const counted = {
      ...advice,
      odds: { ...advice.odds, framesFor95: 12, framesFor95Range: [8, 25] as const, waitForLullS: 9 },
    };
    expect(answerSentence(counted, 'about 1 in 4', 'elbows')).toEqual({
      before: 'Take ',
      count: '12',
      after: ', in the lulls.',
      odds: 'About 1 in 4 will be sharp.',
      basis: '8 to 25; typical hands, from the elbows',
    });
  });

  it('promises nothing where no count can be promised', () => {
    const hopeless = { ...advice, odds: { ...advice.odds, framesFor95: null } };
    expect(answerSentence(hopeless, 'hardly any frame', 'standing').count).toBe('');
  });
});

describe('contours', () => {
  const place = { x: (column: number) => column * 10, y: (row: number) => row * 10 };

  it('cross a slope where it has their height', () => {
    const slope = [
      [0, 1, 2],
      [0, 1, 2],
    ];
    expect(contourPath(slope, 0.5, place)).toBe('M5.0 0.0L5.0 10.0');
    expect(crossingInColumn([[0], [1], [3]], 2, 0)).toBe(1.5);
  });

  it('are none where the grid never reaches them', () => {
    expect(
      contourPath(
        [
          [0, 0.1],
          [0, 0.1],
        ],
        0.5,
        place,
      ),
    ).toBe('');
    expect(
      crossingAtRight(
        [
          [0, 0.1],
          [0, 0.2],
        ],
        0.5,
      ),
    ).toBeNull();
  });

  it('have an even number of ends in every cell, saddles too', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 4, maxLength: 4 }),
        (corners) => {
          const [a = 0, b = 0, c = 0, d = 0] = corners;
          const path = contourPath(
            [
              [a, b],
              [d, c],
            ],
            0.5,
            place,
          );
          const strokes = path.match(/M/g)?.length ?? 0;
          const high = corners.filter((corner) => corner >= 0.5).length;
          expect(strokes).toBeLessThanOrEqual(2);
          expect(strokes === 0).toBe(high === 0 || high === 4);
        },
      ),
      { seed: 4 },
    );
  });
});

describe('the slice through the flower', () => {
  it('takes the largest scale at which the depth fits, and says it', () => {
    expect(sliceScale(8, 80, 3.78)).toBe(2);
    expect(sliceScale(50, 80, 3.78)).toBe(0.2);
    expect([scaleWords(2), scaleWords(1), scaleWords(0.5), scaleWords(5), scaleWords(0.2)]).toEqual([
      'twice life size',
      'life size',
      'half life size',
      '5 times life size',
      '1 : 5',
    ]);
  });

  it('is exactly as deep as the subject', () => {
    const { florets } = flowerStrokes(80, 130, { x: 100, y: 80 });
    const xs = florets.flatMap((path) =>
      [...path.matchAll(/[MQ ]([\d.]+) [\d.]+/g)].map(([, x]) => Number(x)),
    );
    expect(Math.min(...xs)).toBeCloseTo(60, 0);
  });
});

describe('the hour that the page opens on', () => {
  it('is none without a forecast', () => {
    expect(hourHere([], 'mine', 0)).toBeNull();
  });
});
