import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chanceAllSlices, chanceInFocus, framesForAllSlices } from './focus-placement.ts';
import { focusSeries, focusSeriesDurationS } from './focus-series.ts';
import {
  chanceOfCorrelatedKeeper,
  chanceOfKeeper,
  chanceOfKeeperInSession,
  chanceOfSeveralKeepers,
  correlationAfter,
  framesForCorrelatedKeeper,
  framesForKeeper,
} from './keepers.ts';
import { normalDistribution } from './normal.ts';
import { probabilityWithin } from './quadratic-form.ts';

describe('frames for a keeper', () => {
  it('OI T-1: independent', () => {
    expect([
      framesForKeeper(0.1),
      framesForKeeper(0.3),
      framesForKeeper(0.5, 0.99),
      framesForKeeper(0.02),
    ]).toEqual([29, 9, 7, 149]);
  });

  it('OI T-2, T-3: correlated in time', () => {
    expect([0, 0.5, 0.8].map((rho) => framesForCorrelatedKeeper(0.3, rho))).toEqual([9, 18, 44]);
    expect(chanceOfCorrelatedKeeper(0.3, 0.5, 10)).toBeCloseTo(0.837868, 6);
    expect(chanceOfCorrelatedKeeper(0.3, 0.8, 10)).toBeCloseTo(0.598904, 6);
  });

  it('OI T-4, T-5: by session; several keepers', () => {
    expect(chanceOfKeeper(0.3, 10)).toBeCloseTo(0.971752, 6);
    expect(chanceOfKeeperInSession(0.3, 0.2, 10)).toBeCloseTo(0.83362, 6);
    expect(chanceOfKeeperInSession(0.3, 0.5, 10)).toBeCloseTo(0.617899, 6);
    expect(chanceOfSeveralKeepers(0.3, 10, 2)).toBeCloseTo(0.850692, 6);
    expect(chanceOfSeveralKeepers(0.1, 20, 2)).toBeCloseTo(0.608253, 6);
  });

  it('OI T-6, T-7: blink-free groups (Svenson & Barnes, CSIRO 2006)', () => {
    const p = (1 - (10 / 60) * 0.258) ** 15;
    expect(p).toBeCloseTo(0.517224, 5);
    expect(chanceOfKeeper(p, 5)).toBeCloseTo(0.97377, 5);
    expect(chanceOfKeeper((1 - 0.043) ** 6, 2)).toBeCloseTo(0.94627, 5);
  });

  it('OI T-8: correlation of a motion', () => {
    expect(correlationAfter(0.1, 0.5)).toBeCloseTo(0.818731, 6);
    expect(correlationAfter(1, 0.5)).toBeCloseTo(0.135335, 6);
  });

  it('says that there is no count below 0.003, and is the smallest that does', () => {
    expect(framesForKeeper(0.0029)).toBeNull();
    expect(framesForKeeper(0)).toBeNull();
    expect(framesForKeeper(1)).toBe(1);
    expect(framesForKeeper(0.95)).toBe(1);
    fc.assert(
      fc.property(fc.double({ min: 0.003, max: 1, noNaN: true }), (p) => {
        const n = framesForKeeper(p)!;
        expect(chanceOfKeeper(p, n)).toBeGreaterThanOrEqual(0.95 - 1e-9);
        expect(chanceOfKeeper(p, n - 1)).toBeLessThan(0.95);
        expect(chanceOfKeeper(p, n + 1)).toBeGreaterThanOrEqual(chanceOfKeeper(p, n));
      }),
      { seed: 5, numRuns: 300 },
    );
  });
});

describe('focus', () => {
  it.each([
    ['T-9', 10, 1, 0.3, 0.7, 16, 14],
    ['T-10', 5, 0.96, 0.25, 0.72, 8, 7],
    ['T-11', 3, 0.48, 0.5, 0.24, 14, 12],
    ['T-12', 20, 4, 0.2, 3.2, 8, 6],
  ])('OI %s: steps of a series', (_, depth, T, overlap, step, ends, covering) => {
    const plan = focusSeries(depth, T, overlap);
    expect(plan.stepMm).toBeCloseTo(step, 12);
    expect([plan.framesEndsFocused, plan.framesCovering]).toEqual([ends, covering]);
  });

  it('OI T-13, T-14: free-hand focus', () => {
    const rows = [
      [1, 3, 0.132368, 22],
      [2, 2, 0.382925, 7],
      [0.96, 1, 0.368773, 7],
    ] as const;
    for (const [T, sigma, p, n] of rows) {
      expect(chanceInFocus(T, sigma)).toBeCloseTo(p, 6);
      expect(framesForKeeper(chanceInFocus(T, sigma))).toBe(n);
    }
    expect(chanceInFocus(1, 1, 0.5)).toBeCloseTo(0.341345, 6);
    expect(chanceInFocus(1, 0)).toBe(1);
  });

  it('OI T-15, T-16: all slices', () => {
    expect(framesForAllSlices(5)).toBeCloseTo(11.4167, 4);
    expect(chanceAllSlices(5, 20)).toBeCloseTo(0.942719, 6);
    expect(chanceAllSlices(5, 12)).toBeCloseTo(0.678003, 6);
    expect(chanceAllSlices(10, 40)).toBeCloseTo(0.858097, 6);
  });

  it('a series lasts as long as its slowest part', () => {
    expect(focusSeriesDurationS(5, 1 / 200, 5)).toBeCloseTo(0.805, 12);
    expect(focusSeriesDurationS(3, 2, 5)).toBe(6);
  });
});

describe('distributions', () => {
  it('the normal one, printed values (Abramowitz & Stegun, table 26.1, from memory)', () => {
    expect(normalDistribution(1)).toBeCloseTo(0.8413447461, 9);
    expect(normalDistribution(-1.96)).toBeCloseTo(0.0249978951, 9);
    expect(normalDistribution(3.5)).toBeCloseTo(0.9997673709, 9);
    expect(normalDistribution(0)).toBe(0.5);
  });

  it('a sum of squares: one term is chi-square of 1, two alike are exponential, four alike Erlang', () => {
    for (const limit of [0.01, 0.3, 1, 4, 20]) {
      const one = 2 * normalDistribution(Math.sqrt(limit)) - 1;
      expect(probabilityWithin([1], limit)).toBeCloseTo(one, 6);
      expect(probabilityWithin([1, 1], limit)).toBeCloseTo(1 - Math.exp(-limit / 2), 6);
      const erlang = 1 - Math.exp(-limit / 2) * (1 + limit / 2);
      expect(probabilityWithin([1, 1, 1, 1], limit)).toBeCloseTo(erlang, 6);
    }
  });

  it('law: a larger weight never makes it likelier; none at all is certain; no room is impossible', () => {
    const weight = fc.double({ min: 0, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(
        weight,
        weight,
        weight,
        weight,
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        (a, b, c, more, limit) => {
          const less = probabilityWithin([a, b, c], limit);
          expect(probabilityWithin([a + more, b, c], limit)).toBeLessThanOrEqual(less + 1e-6);
        },
      ),
      { seed: 6, numRuns: 1000 },
    );
    expect(probabilityWithin([0, 0], 1)).toBe(1);
    expect(probabilityWithin([1], 0)).toBe(0);
  });
});
