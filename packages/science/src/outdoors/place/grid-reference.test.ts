import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { squareOfGridReference } from './grid-reference.ts';
import { nationalGridOfDegrees, nationalGridReference } from './map-grid.ts';

describe('a national grid reference', () => {
  it.each([
    // FS G-3, the Caister water tower: TG 51409 13177 is 52.6575703 N, 1.7179216 E on OSGB36; the square holds it.
    ['TG 51409 13177', 651409.5, 313177.5, 1],
    ['TG51401317', 651405, 313175, 10],
    // FS G-4.
    ['TQ 38882 77331', 538882.5, 177331.5, 1],
    ['NN 16677 71281', 216677.5, 771281.5, 1],
    ['HU 38791 57523', 438791.5, 1157523.5, 1],
    ['tq37', 535000, 175000, 10_000],
  ])('%s is its square', (reference, eastingM, northingM, sideM) => {
    const square = squareOfGridReference(reference)!;
    expect(square.sideM).toBe(sideM);
    const back = nationalGridOfDegrees(square.centre);
    if (back.kind !== 'onGrid') throw new Error('off the grid');
    expect(back.eastingM).toBeCloseTo(eastingM, 2);
    expect(back.northingM).toBeCloseTo(northingM, 2);
    expect(square.uncertaintyM).toBeCloseTo(sideM / Math.SQRT2, 6);
  });

  it('is read back to the square that it was cut to', () => {
    const metres = (most: number) => fc.double({ min: 0, max: most - 1, noNaN: true });
    fc.assert(
      fc.property(metres(700_000), metres(1_300_000), fc.constantFrom(2, 4, 6, 8, 10), (e, n, figures) => {
        const reference = nationalGridReference({ eastingM: e, northingM: n }, figures);
        const square = squareOfGridReference(reference)!;
        const back = nationalGridOfDegrees(square.centre);
        if (back.kind !== 'onGrid') return;
        expect(Math.abs(back.eastingM - e)).toBeLessThanOrEqual(square.sideM / 2 + 0.01);
        expect(Math.abs(back.northingM - n)).toBeLessThanOrEqual(square.sideM / 2 + 0.01);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it.each(['', 'TG', 'TI 12 34', 'TG 123', 'AA 12 34', '51.5, -0.1', 'TG 5140 131'])(
    '%j is none, or a square of its own',
    (text) => {
      const square = squareOfGridReference(text);
      if (text === 'TG') expect(square?.sideM).toBe(100_000);
      else expect(square).toBeNull();
    },
  );
});
