import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { butterfliesOnTheWing, insectState, warmUpTime } from './insects.ts';

const weather = { airTemperatureC: 15, sunshineShare: 1, windSpeedMs: 2, raining: false };

describe('cool insects', () => {
  // FS I-4, vectors of I-1 and I-2.
  it.each([
    [12.9, 1, 2, false],
    [13, 0.6, 2, true],
    [13, 0.59, 2, false],
    [17.1, 0, 2, true],
    [20, 1, 10.8, false],
    [20, 1, 10.7, true],
  ])('at %f C with %f sun and %f m/s: on the wing %s (FS I-1, I-2, I-4)', (T, sun, wind, active) => {
    const given = { airTemperatureC: T, sunshineShare: sun, windSpeedMs: wind, raining: false };
    expect(butterfliesOnTheWing(given)).toBe(active);
  });

  it('are not on the wing in rain (FS I-1)', () => {
    expect(butterfliesOnTheWing({ ...weather, raining: true })).toBe(false);
  });

  it('are torpid in the cold, and without sun up to 13 C; then bask; then fly', () => {
    const dull = { ...weather, sunshineShare: 0, radiationWm2: 100, directSun: false };
    expect(insectState({ ...dull, airTemperatureC: 9 })).toBe('torpid');
    expect(insectState({ ...dull, airTemperatureC: 12 })).toBe('torpid');
    expect(insectState({ ...dull, airTemperatureC: 12, directSun: true })).toBe('basking');
    expect(insectState({ ...dull, airTemperatureC: 15 })).toBe('basking');
    expect(insectState({ ...dull, airTemperatureC: 18 })).toBe('flying');
    expect(insectState({ ...dull, airTemperatureC: 18, radiationWm2: 0 })).toBe('torpid');
  });

  it('warm up in four minutes (FS I-14), or never', () => {
    const warming = { startC: 10, surroundingsC: 35, flightC: 30, timeConstantMin: 2.5 };
    const found = warmUpTime(warming);
    expect(found.kind === 'warmsUp' && found.minutes).toBeCloseTo(4.02, 2);
    expect(warmUpTime({ ...warming, surroundingsC: 29 })).toEqual({ kind: 'staysCool' });
  });

  it('are livelier the warmer it is', () => {
    const order = ['torpid', 'basking', 'flying'];
    const degrees = fc.double({ min: -30, max: 45, noNaN: true });
    fc.assert(
      fc.property(degrees, degrees, fc.boolean(), (one, other, directSun) => {
        const at = (airTemperatureC: number) =>
          order.indexOf(insectState({ ...weather, airTemperatureC, radiationWm2: 150, directSun }));
        expect(at(Math.min(one, other))).toBeLessThanOrEqual(at(Math.max(one, other)));
      }),
      { seed: 11, numRuns: 200 },
    );
  });
});
