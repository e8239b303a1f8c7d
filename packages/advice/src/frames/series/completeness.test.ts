import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brightnessSteps, movedFrames, type LightMap } from './completeness.ts';
import { focusSide, type FocusMap } from './focus-side.ts';
import { focusSeriesWords } from './series-words.ts';

/** sRGB code of a linear value, IEC 61966-2-1. */
const code = (linear: number) => 255 * (1.055 * linear ** (1 / 2.4) - 0.055);

/** Tiles from dark to light, all multiplied by 2 to the stops. */
function lit(stops: number): LightMap {
  const meanLuma = Array.from({ length: 96 }, (_, i) => code((0.05 + (0.3 * i) / 96) * 2 ** stops));
  return { columns: 12, rows: 8, meanLuma };
}

describe('steps of brightness', () => {
  it('finds a step of known stops between the frames where it is, and no drift of a tenth of a stop', () => {
    const steps = brightnessSteps([0, 0.1, 0.2, 0.9, 0.8].map(lit));
    expect(steps.map(({ after }) => after)).toEqual([2]);
    expect(steps[0]!.stops).toBeCloseTo(0.7, 2);
  });
  it('reads the same step backwards with the other sign', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.35, max: 1.2, noNaN: true }), (stops) => {
        const [up] = brightnessSteps([lit(0), lit(stops)]);
        const [down] = brightnessSteps([lit(stops), lit(0)]);
        expect(up!.stops).toBeCloseTo(-down!.stops, 6);
      }),
      { seed: 6 },
    );
  });
});

describe('frames in which something moved', () => {
  it('are those that fall below both neighbours, not the slow change of a moving focus', () => {
    expect(movedFrames([0.99, 0.95, null, 0.96, 0.9, 0.82, 0.75])).toEqual([]);
    expect(movedFrames([0.95, 0.96, null, 0.6, 0.94])).toEqual([3]);
    expect(movedFrames([])).toEqual([]);
  });
});

describe('what is said of a focus series', () => {
  const movement = { kind: 'focus', gaps: [], firstEnd: 'reached', lastEnd: 'reached' } as const;
  it('names steps, movement and the best single frame', () => {
    expect(
      focusSeriesWords(movement, 8, { steps: [{ after: 2, stops: -0.4 }], moved: [4], best: 'A.JPG' }),
    ).toBe(
      'Focus series of 8 frames, perhaps not complete: it grows darker by 0.4 stops after frame 3 and something moved in frame 5. Best single frame: A.JPG.',
    );
    expect(focusSeriesWords(movement, 8)).toMatch(/complete as far as the frames show/);
  });
});

describe('the side of the plane of focus', () => {
  /** A bank of leaves, sharp in a band about `row`: the ratio of detail to gradient falls off from it. */
  const bank = (row: number): FocusMap => {
    const [columns, rows] = [30, 24];
    const gradient = Array.from({ length: columns * rows }, () => 100);
    const detail = gradient.map((value, i) => value / (1 + (Math.floor(i / columns) - row) ** 2));
    return { columns, rows, detail, gradient };
  };
  it('is in front when the sharp band lies below the point, behind when above', () => {
    expect(focusSide(bank(20), { x: 0.5, y: 0.4 })).toBe('inFront');
    expect(focusSide(bank(4), { x: 0.5, y: 0.6 })).toBe('behind');
  });
  it('is not told where the point is in the band, nor from one sharp flower', () => {
    expect(focusSide(bank(12), { x: 0.5, y: 0.5 })).toBeNull();
    const flower = bank(20);
    const detail = Array.from(flower.detail, (value, i) => (Math.abs((i % 30) - 15) < 4 ? value : 1));
    expect(focusSide({ ...flower, detail }, { x: 0.5, y: 0.4 })).toBeNull();
    expect(focusSide({ ...flower, gradient: flower.gradient, detail: [] }, { x: 0.5, y: 0.4 })).toBeNull();
  });
});
