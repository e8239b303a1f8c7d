import { describe, expect, it } from 'vitest';
import { DomainError } from '../../domain-error.ts';
import { subjectToSensorMm } from './conjugates.ts';
import { magnificationAt, magnificationLine, magnificationOfLength } from './magnification-found.ts';

describe('magnification found again', () => {
  it('by hand: 20 mm that cover 3000 px of 4 µm are at 0.6', () => {
    expect(magnificationOfLength(3000, 4, 20)).toBeCloseTo(0.6, 12);
  });

  it('known truth: points of a line give the line back, and say where it was measured', () => {
    const frames = [0.3, 0.5, 1].map((D) => ({
      focusDistanceMm: 1000 * D,
      magnification: -0.02 + 120 / (1000 * D),
    }));
    const line = magnificationLine(frames);
    expect(line.intercept).toBeCloseTo(-0.02, 12);
    expect(line.slopeMm).toBeCloseTo(120, 9);
    expect(line.relativeError).toBeLessThan(1e-12);
    expect(magnificationAt(line, 400)).toEqual({
      kind: 'found',
      magnification: expect.closeTo(0.28, 12),
      withinMeasured: true,
    });
    expect(magnificationAt(line, 2000)).toMatchObject({ withinMeasured: false });
    expect(magnificationAt(line, 1e5)).toEqual({ kind: 'none' });
  });

  it('known truth: a thin lens of 100 mm lies within 0.05 of its line from 1:10 to 1:2', () => {
    const at = (m: number) => ({ focusDistanceMm: subjectToSensorMm(100, m), magnification: m });
    const line = magnificationLine([0.1, 0.2, 0.35, 0.5].map(at));
    for (const m of [0.1, 0.15, 0.25, 0.3, 0.4, 0.5]) {
      const found = magnificationAt(line, subjectToSensorMm(100, m));
      expect(Math.abs((found.kind === 'found' ? found.magnification : 0) - m)).toBeLessThan(0.05);
    }
  });

  it('one frame gives a line through infinity; no frames, or all at one distance, none', () => {
    expect(magnificationLine([{ focusDistanceMm: 500, magnification: 0.2 }])).toMatchObject({
      slopeMm: 100,
      intercept: 0,
    });
    expect(() => magnificationLine([])).toThrow(DomainError);
    const twice = { focusDistanceMm: 500, magnification: 0.2 };
    expect(() => magnificationLine([twice, twice])).toThrow('frames at different distances');
  });
});
