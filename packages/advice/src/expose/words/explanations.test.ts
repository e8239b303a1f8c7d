import { EXPLAINED, type ExposeDocument } from '@tepal/formats';
import { describe, expect, it } from 'vitest';
import { exposureAdvice } from '../exposure-advice.ts';
import type { ExposureRequest } from '../question/request.ts';
import { MEADOW_FLOWER } from '../fixtures/meadow-flower.ts';

const base: ExposureRequest = { ...MEADOW_FLOWER, windMs: 0.6 };

const resultOf = ({ explanations }: ExposeDocument, name: string) =>
  explanations!.find((one) => one.name === name)?.result.value;

describe('explanations', () => {
  const document = exposureAdvice(base);

  it('every number that opens has its steps, each with an equation, a source and what went in', () => {
    expect([...new Set(document.explanations!.map((one) => one.of))].sort()).toEqual([...EXPLAINED].sort());
    for (const one of document.explanations!) {
      expect(one.equation.length).toBeGreaterThan(3);
      expect(one.source.length).toBeGreaterThan(3);
      expect(one.inputs.length).toBeGreaterThan(0);
    }
  });

  it('what comes out is the number of the document', () => {
    const { optics, budget, noise, odds, background, lull, timing } = document;
    expect(resultOf(document, 'Effective f-number')).toBe(optics.effectiveFNumber);
    expect(resultOf(document, 'Depth of field, exact at close range')).toBe(optics.depthOfFieldMm);
    expect(resultOf(document, 'Disc of a point behind')).toBe(background.discMm);
    expect(resultOf(document, 'Blur at the worst edge')).toBe(budget.totalUm);
    expect(resultOf(document, 'Signal to noise of the midtones')).toBe(noise.midtoneSnr);
    expect(resultOf(document, 'Frames for one')).toBe(odds.framesFor95);
    expect(resultOf(document, 'Lulls')).toBe(lull?.expectedWaitS);
    expect(resultOf(document, 'Quiet moment at the end of a swing')).toBe(timing?.sharp);
  });

  it('by hand: the equations as written give the results from the inputs', () => {
    const numbers = (name: string): Record<string, number> =>
      Object.fromEntries(
        document
          .explanations!.find((one) => one.name === name)!
          .inputs.map((input) => [input.name.split(' ').at(-1)!, Number(input.value)]),
      );
    const { N, m, P } = numbers('Effective f-number') as { N: number; m: number; P: number };
    expect(resultOf(document, 'Effective f-number')).toBeCloseTo(N * (1 + m / P), 10);
    const { f, x, u_E } = numbers('Disc of a point behind') as { f: number; x: number; u_E: number };
    expect(resultOf(document, 'Disc of a point behind')).toBeCloseTo(((f * m) / N) * (x / (u_E + x)), 10);
  });

  it('a still plant and a watched one explain themselves too', () => {
    expect(exposureAdvice(MEADOW_FLOWER).explanations!.length).toBeGreaterThan(10);
    const watched = exposureAdvice({ ...MEADOW_FLOWER, sway: { amplitudeMm: 3, frequencyHz: 1 } });
    expect(resultOf(watched, 'Watched sway')).toBe(watched.budget.subjectMotionUm);
  });
});
