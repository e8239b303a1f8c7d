import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circularDays, daysAfter } from './day-of-year.ts';
import { degreeDaysAverage, degreeDaysModifiedAverage, degreeDaysSingleSine } from './degree-days.ts';
import { openingByNeighbour } from './opening-order.ts';
import { besselI0Scaled, kappaOfSpread, seasonDensity } from './season-density.ts';
import { seasonEnd, type SeasonEnd } from './season-ends.ts';
import { hopkinsShiftDays, placeShiftDays, vitasseDaysPerMetre, warmthShiftDays } from './season-shift.ts';

const celsius = (fahrenheit: number) => ((fahrenheit - 32) * 5) / 9;
const estimated = (found: SeasonEnd) => {
  if (found.kind !== 'estimated') throw new Error(found.kind);
  return found;
};

describe('degree days', () => {
  it('by a single sine, theta in radians (FS N-1; mistake 4: 3.664 with theta in degrees)', () => {
    const day = { lowestC: 5, highestC: 20, baseC: 10 };
    expect(degreeDaysSingleSine(day)).toBeCloseTo(3.77122, 5);
    expect(degreeDaysAverage(day)).toBe(2.5);
  });

  it('by a single sine (FS N-2)', () => {
    expect(degreeDaysSingleSine({ lowestC: 10, highestC: 20, baseC: 14 })).toBeCloseTo(2.123488, 5);
  });

  it.each([
    [10, 46, 7.80743],
    [21, 96, 11.44835],
  ])(
    'from %i to %i cut off above 26 (FS N-3; mistake 4: 0.857 with the wrong cutoff)',
    (lowestC, highestC, dd) => {
      expect(degreeDaysSingleSine({ lowestC, highestC, baseC: 14 }, 26)).toBeCloseTo(dd, 5);
    },
  );

  it.each([
    [45, 80, 15],
    [40, 95, 18],
  ])('modified average 50/86 F of %i and %i F is %f F (FS N-4, sanity only)', (lowest, highest, dd) => {
    const day = { lowestC: celsius(lowest), highestC: celsius(highest), baseC: celsius(50) };
    expect((degreeDaysModifiedAverage(day, celsius(86)) * 9) / 5).toBeCloseTo(dd, 9);
  });

  it('are what the sine integrates to', () => {
    const degrees = fc.double({ min: -20, max: 45, noNaN: true });
    fc.assert(
      fc.property(degrees, degrees, degrees, (one, other, baseC) => {
        const [lowestC, highestC] = [Math.min(one, other), Math.max(one, other)];
        let sum = 0;
        for (let i = 0; i < 4000; i++) {
          const T =
            (highestC + lowestC) / 2 +
            ((highestC - lowestC) / 2) * Math.sin((2 * Math.PI * (i + 0.5)) / 4000);
          sum += Math.max(0, T - baseC) / 4000;
        }
        expect(degreeDaysSingleSine({ lowestC, highestC, baseC })).toBeCloseTo(sum, 3);
      }),
      { seed: 41, numRuns: 100 },
    );
  });

  it('refuse a day whose highest lies below its lowest', () => {
    expect(() => degreeDaysAverage({ lowestC: 10, highestC: 5, baseC: 0 })).toThrow(
      'for highestC but received 5',
    );
  });
});

describe('the ends of a season', () => {
  const records = [1662, 1638, 1631, 1628, 1628, 1611, 1607, 1602, 1601, 1598];

  it('upper end (FS N-5; Roberts and Solow data)', () => {
    const found = estimated(seasonEnd(records, 'end'));
    expect(found.day).toBeCloseTo(1690.418, 3);
    expect(found.nearDay).toBeCloseTo(1669.133, 3);
    expect(found.farDay).toBeCloseTo(1798.879, 3);
  });

  it('lower end (FS N-6)', () => {
    const found = estimated(seasonEnd(records, 'onset'));
    expect(found.day).toBeCloseTo(1595.094, 3);
    expect(found.farDay).toBeCloseTo(1575.102, 3);
    expect(found.nearDay).toBeCloseTo(1597.978, 3);
  });

  it('are symmetric for symmetric days (FS N-7)', () => {
    const days = [5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15];
    const [onset, end] = [estimated(seasonEnd(days, 'onset')), estimated(seasonEnd(days, 'end'))];
    expect(onset.day).toBeCloseTo(3.4816, 4);
    expect(onset.farDay).toBeCloseTo(-2.2667, 4);
    expect(onset.nearDay).toBeCloseTo(4.918, 4);
    expect(end.day).toBeCloseTo(16.5184, 4);
    expect(end.nearDay).toBeCloseTo(15.082, 4);
    expect(end.farDay).toBeCloseTo(22.2667, 4);
    expect(onset.day + end.day).toBeCloseTo(20, 9);
  });

  it('of eleven days of May (FS N-8)', () => {
    const days = [121, 124, 126, 127, 130, 131, 133, 135, 138, 142, 150];
    const [onset, end] = [estimated(seasonEnd(days, 'onset')), estimated(seasonEnd(days, 'end'))];
    expect(onset.day).toBeCloseTo(118.549, 3);
    expect(onset.farDay).toBeCloseTo(107.076, 3);
    expect(onset.nearDay).toBeCloseTo(120.944, 3);
    expect(end.day).toBeCloseTo(159.711, 3);
    expect(end.nearDay).toBeCloseTo(151.785, 3);
    expect(end.farDay).toBeCloseTo(193.348, 3);
  });

  it('are not told from fewer than three different days', () => {
    expect(seasonEnd([], 'end')).toEqual({ kind: 'tooFew' });
    expect(seasonEnd([100, 100, 101], 'end')).toEqual({ kind: 'tooFew' });
  });

  it('lie outside the days seen, shift with them, and are finite or named', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 366 }), { minLength: 3, maxLength: 30 }),
        fc.integer({ min: -200, max: 200 }),
        (days, by) => {
          const found = seasonEnd(days, 'end');
          if (found.kind === 'tooFew') return;
          expect(found.day).toBeGreaterThanOrEqual(Math.max(...days) - 1e-6);
          const moved = seasonEnd(
            days.map((day) => day + by),
            'end',
          );
          expect(estimated(moved).day).toBeCloseTo(found.day + by, 3);
        },
      ),
      { seed: 42, numRuns: 200 },
    );
  });
});

describe('days on the circle', () => {
  it('have a mean across the new year (FS N-9, sanity only)', () => {
    const found = circularDays([355, 362, 5, 10, 18]);
    expect(found.meanDay).toBeCloseTo(4.001, 3);
    expect(found.concentration).toBeCloseTo(0.98589, 5);
    expect(found.spreadDays).toBeCloseTo(9.792, 3);
  });

  it('lie at most half a year apart', () => {
    expect(daysAfter(5, 360)).toBe(10);
    expect(daysAfter(360, 5)).toBe(-10);
    expect(daysAfter(366, 1)).toBe(0);
  });

  it('have a density (FS N-10, sanity only)', () => {
    const days = [121, 124, 126, 127, 130, 131, 133, 135, 138, 142, 150];
    expect(seasonDensity(days, 60, 121)).toBeCloseTo(0.02367, 6);
    expect(seasonDensity(days, 60, 130)).toBeCloseTo(0.036651, 6);
    expect(seasonDensity(days, 60, 140)).toBeCloseTo(0.025267, 6);
    let sum = 0;
    for (let day = 1; day <= 365; day++) sum += seasonDensity(days, 60, day);
    expect(sum).toBeCloseTo(1, 6);
    expect(kappaOfSpread(7.5)).toBeCloseTo(60, 0);
  });

  // exp(-x) I0(x) at 1 and 10, from memory of the tables: I0(1) = 1.2660659, I0(10) = 2815.7167.
  it('rest on the Bessel function', () => {
    expect(besselI0Scaled(1)).toBeCloseTo(1.2660659 / Math.E, 6);
    expect(besselI0Scaled(10)).toBeCloseTo(2815.7167 / Math.exp(10), 6);
  });
});

describe('a season moved', () => {
  it('by latitude and altitude (FS N-11, sanity only)', () => {
    expect(hopkinsShiftDays({ polewardDeg: 1, higherM: 121.92 })).toBeCloseTo(8, 9);
    expect(hopkinsShiftDays({ polewardDeg: 2.5, higherM: 300 })).toBeCloseTo(19.84, 2);
  });

  it('leaves longitude out, whose direction the sources do not agree on (mistake 7)', () => {
    const shift = { polewardDeg: 1, higherM: 0, longitudeDeg: 40 };
    expect(hopkinsShiftDays(shift)).toBe(4);
  });

  it('less by altitude now than then', () => {
    const up = { polewardDeg: 0, higherM: 1000 };
    expect(placeShiftDays(up, vitasseDaysPerMetre.now)).toBeCloseTo(22, 9);
    expect(placeShiftDays(up, vitasseDaysPerMetre.about1960)).toBeCloseTo(34, 9);
  });

  it("by this year's warmth: as late as its sum is behind", () => {
    const usual = Array.from({ length: 200 }, (_, day) => day * 5);
    const late = Array.from({ length: 100 }, (_, day) => Math.max(0, (day - 10) * 5));
    expect(warmthShiftDays(usual, late)).toEqual({ kind: 'shifted', daysLater: 10 });
    expect(warmthShiftDays(usual, [0, 0, 0])).toEqual({ kind: 'noWarmthYet' });
    expect(warmthShiftDays(usual, usual)).toEqual({ kind: 'shifted', daysLater: 0 });
  });
});

describe('the order of opening', () => {
  const pairs = [
    { year: 2021, earlierDay: 100, laterDay: 112 },
    { year: 2022, earlierDay: 110, laterDay: 121 },
    { year: 2023, earlierDay: 95, laterDay: 108 },
  ];

  it('dates the next by the mean lag', () => {
    const found = openingByNeighbour(105, pairs);
    expect(found.kind === 'dated' && found.day).toBeCloseTo(117, 9);
    expect(found.kind === 'dated' && found.years).toBe(3);
  });

  it('is surer the more years there are, and says when there is none', () => {
    const spread = (n: number) => {
      const found = openingByNeighbour(105, pairs.slice(0, n));
      return found.kind === 'dated' ? found.spreadDays : NaN;
    };
    expect(spread(1)).toBeGreaterThan(spread(2));
    expect(spread(2)).toBeGreaterThan(spread(3));
    expect(openingByNeighbour(105, [])).toEqual({ kind: 'neverTogether' });
  });
});
