import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hatch } from './hatching.ts';
import { placeLabels } from './label-lanes.ts';
import { windLine } from './wind-line.ts';

const area = { from: 0, to: 1000, top: 0, bottom: 64 };
const strokesOf = (illuminanceLux: number, diffuseShare: number) =>
  hatch(area, () => ({ illuminanceLux, diffuseShare }));
const countOf = (strokes: ReturnType<typeof hatch>) =>
  strokes.reduce((sum, { path }) => sum + (path.match(/M/g)?.length ?? 0), 0);

describe('light as hatching', () => {
  it('is none in the dark', () => {
    expect(strokesOf(0, 1)).toEqual([]);
    expect(hatch(area, () => null)).toEqual([]);
  });

  it('is closer the brighter, and wider the harder', () => {
    expect(countOf(strokesOf(20_000, 1))).toBeGreaterThan(countOf(strokesOf(300, 1)));
    expect(countOf(strokesOf(20_000, 1))).toBeGreaterThan(countOf(strokesOf(20_000, 0.25)));
  });

  it('leans with hardness', () => {
    const lean = (diffuse: number) => {
      const [, x0, x1] = /M([\d.]+) [\d.]+L([\d.]+)/.exec(strokesOf(20_000, diffuse)[0]?.path ?? '') ?? [];
      return Number(x1) - Number(x0);
    };
    expect(lean(1)).toBeLessThan(3);
    expect(lean(0.25)).toBeGreaterThan(20);
  });

  it('never leaves its area by more than a stroke’s width', () => {
    for (const { path } of strokesOf(50_000, 0.25)) {
      for (const [, x] of path.matchAll(/[ML]([\d.]+) /g)) expect(Number(x)).toBeLessThanOrEqual(1002);
    }
  });
});

describe('wind as a line', () => {
  const yOf = (speedMs: number) => 100 - 10 * speedMs;
  const rangeOf = (path: string) => {
    const ys = [...path.matchAll(/ ([\d.]+)/g)].map(([, y]) => Number(y));
    return Math.max(...ys) - Math.min(...ys);
  };

  it('is rougher the stronger its gusts, and flat without', () => {
    const line = (gustMs: number) =>
      windLine({ from: 0, to: 600, seed: 3 }, () => ({ meanMs: 2, gustMs }), yOf);
    expect(rangeOf(line(2))).toBe(0);
    expect(rangeOf(line(4))).toBeGreaterThan(rangeOf(line(3)));
  });

  it('is the same drawing each time', () => {
    const draw = () => windLine({ from: 0, to: 300, seed: 5 }, () => ({ meanMs: 1, gustMs: 3 }), yOf);
    expect(draw()).toBe(draw());
  });

  it('breaks where the wind is not known', () => {
    const path = windLine(
      { from: 0, to: 300, seed: 1 },
      (x) => (x > 100 && x < 200 ? null : { meanMs: 1, gustMs: 1 }),
      yOf,
    );
    expect(path.match(/M/g)?.length).toBe(2);
  });
});

describe('words under their hours', () => {
  it('never cover each other, and stay on the page', () => {
    const label = fc.record({
      x: fc.integer({ min: 0, max: 1000 }),
      width: fc.integer({ min: 20, max: 300 }),
    });
    fc.assert(
      fc.property(fc.array(label, { maxLength: 12 }), (labels) => {
        const placed = placeLabels(labels, { from: 0, to: 1000, gap: 12, drift: 80 });
        placed.forEach((a, i) => {
          const widthA = labels[i]?.width ?? 0;
          expect(a.x).toBeGreaterThanOrEqual(0);
          expect(a.x + widthA).toBeLessThanOrEqual(1000);
          placed.forEach((b, j) => {
            if (j <= i || a.lane !== b.lane) return;
            const widthB = labels[j]?.width ?? 0;
            expect(a.x + widthA + 12 <= b.x || b.x + widthB + 12 <= a.x).toBe(true);
          });
        });
      }),
      { seed: 9 },
    );
  });

  it('stand at their hour when there is room', () => {
    expect(placeLabels([{ x: 300, width: 100 }], { from: 0, to: 1000, gap: 12, drift: 80 })).toEqual([
      { x: 300, lane: 0 },
    ]);
  });

  it('are placed even where one is wider than the page', () => {
    expect(placeLabels([{ x: 300, width: 2000 }], { from: 0, to: 1000, gap: 12, drift: 80 })).toEqual([
      { x: 0, lane: 0 },
    ]);
  });
});
