import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { butterfliesInNumbers, butterfliesOnTheWing, insectState, warmUpTime } from './insects.ts';

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
  ])(
    'at %f C with %f sun and %f m/s: on the wing %s (FS I-1, I-2; the vectors of I-4 sanity only)',
    (T, sun, wind, active) => {
      const given = { airTemperatureC: T, sunshineShare: sun, windSpeedMs: wind, raining: false };
      expect(butterfliesOnTheWing(given)).toBe(active);
    },
  );

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

  it('fly in numbers only from 19 C or in at least 80 % sun (FS I-3)', () => {
    expect(butterfliesInNumbers({ ...weather, airTemperatureC: 18, sunshineShare: 0.5 })).toBe(false);
    expect(butterfliesInNumbers({ ...weather, airTemperatureC: 18, sunshineShare: 0.85 })).toBe(true);
    expect(butterfliesInNumbers({ ...weather, airTemperatureC: 20, sunshineShare: 0 })).toBe(true);
    expect(butterfliesInNumbers({ ...weather, airTemperatureC: 12, sunshineShare: 1 })).toBe(false);
  });

  it('sit below 10 C as bees and dragonflies were found to (FS I-8, I-12)', () => {
    const sunny = { ...weather, radiationWm2: 400, directSun: true };
    expect(insectState({ ...sunny, airTemperatureC: 6.9 })).toBe('torpid');
    const overcast = { ...sunny, sunshineShare: 0, directSun: false, radiationWm2: 120 };
    expect(insectState({ ...overcast, airTemperatureC: 9.9 })).toBe('torpid');
  });

  it('need a thorax of about 30 C: cold air lets them reach it in sun alone (FS I-5, I-9)', () => {
    const inSun = { startC: 9, surroundingsC: 36, flightC: 30, timeConstantMin: 3 };
    expect(warmUpTime(inSun).kind).toBe('warmsUp');
    expect(warmUpTime({ ...inSun, surroundingsC: 10 }).kind).toBe('staysCool');
  });

  it('grow livelier with light (FS I-11), and bask before they fly (FS I-10)', () => {
    const cool = { ...weather, airTemperatureC: 12.5 };
    expect(insectState({ ...cool, radiationWm2: 120, directSun: false, sunshineShare: 0 })).toBe('torpid');
    expect(insectState({ ...cool, radiationWm2: 400, directSun: true })).toBe('basking');
  });

  it('warm up in four minutes (FS I-14; sanity only), or never', () => {
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
