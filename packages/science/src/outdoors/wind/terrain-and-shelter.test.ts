import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  innerLayerDepthM,
  orographicLocation,
  orographyFactor,
  speedUpTaylorLee1984,
  type Rise,
} from './landform.ts';
import { shelterPerera1981, shelterTaylorSalmon1993, wakeHeightPerera1981 } from './shelter.ts';

const hill: Rise = { form: 'ridge', heightM: 20, upwindLengthM: 100, downwindLengthM: 100 };
const cliff: Rise = { ...hill, form: 'cliff' };

describe('rises in the ground', () => {
  it('speeds the wind up at a crest (FS W-11; sanity only)', () => {
    expect(orographicLocation(hill, { fromCrestM: 0, heightM: 2 })).toBeCloseTo(0.9749, 4);
    expect(orographyFactor(hill, { fromCrestM: 0, heightM: 2 })).toBeCloseTo(1.39, 4);
    expect(orographicLocation(hill, { fromCrestM: 0, heightM: 10 })).toBeCloseTo(0.8385, 4);
    expect(orographyFactor(hill, { fromCrestM: 0, heightM: 10 })).toBeCloseTo(1.3354, 4);
  });

  it.each([
    [-50, 1.105],
    [50, 1.1631],
    [100, 1.0682],
  ])('falls off %f m from the crest (FS W-12; sanity only)', (fromCrestM, expected) => {
    expect(orographyFactor(hill, { fromCrestM, heightM: 2 })).toBeCloseTo(expected, 4);
  });

  it('behind a cliff, by the fit and between crest and fit (FS W-13; mistake 1; sanity only)', () => {
    expect(orographicLocation(cliff, { fromCrestM: 50, heightM: 10 })).toBeCloseTo(0.5101, 4);
    expect(orographyFactor(cliff, { fromCrestM: 50, heightM: 10 })).toBeCloseTo(1.204, 4);
    expect(orographicLocation(cliff, { fromCrestM: 5, heightM: 10 })).toBeCloseTo(0.8473, 4);
    expect(orographyFactor(cliff, { fromCrestM: 5, heightM: 10 })).toBeCloseTo(1.3389, 4);
  });

  it('is steady where the cliff is interpolated (mistake 1)', () => {
    const just = (fromCrestM: number) => orographyFactor(cliff, { fromCrestM, heightM: 10 });
    expect(just(9.9999)).toBeCloseTo(just(10), 4);
    expect(just(1e-6)).toBeCloseTo(just(0), 4);
  });

  it('saturates on steep ground and leaves gentle ground alone (FS W-14, W-15; sanity only)', () => {
    const steep: Rise = { ...hill, heightM: 30, upwindLengthM: 60 };
    expect(orographicLocation(steep, { fromCrestM: 0, heightM: 2 })).toBeCloseTo(0.9749, 4);
    expect(orographyFactor(steep, { fromCrestM: 0, heightM: 2 })).toBeCloseTo(1.5849, 4);
    expect(orographyFactor({ ...hill, heightM: 4 }, { fromCrestM: 0, heightM: 2 })).toBe(1);
  });

  it.each([
    ['ridge' as const, 0.4639],
    ['escarpment' as const, 0.1879],
    ['hill' as const, 0.3619],
  ])('Taylor-Lee, %s (FS W-16; constants from memory; sanity only)', (form, expected) => {
    expect(speedUpTaylorLee1984({ form, heightM: 20, halfLengthM: 80 }, 2)).toBeCloseTo(expected, 4);
  });

  it('Taylor-Lee on Askervein, 0.8 to 0.9 in the field (FS W-17)', () => {
    const speedUp = speedUpTaylorLee1984({ form: 'ridge', heightM: 116, halfLengthM: 250 }, 10);
    expect(speedUp).toBeCloseTo(0.823, 3);
  });

  it.each([
    [50, 3.385],
    [100, 6.033],
    [200, 10.862],
  ])('inner layer for a half-length of %f m (FS W-18; sanity only)', (L, expected) => {
    expect(innerLayerDepthM(L, 0.03)).toBeCloseTo(expected, 3);
  });

  it('never slows the wind and never gives NaN', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<Rise['form']>('ridge', 'cliff'),
        fc.double({ min: 0, max: 300, noNaN: true }),
        fc.double({ min: 1, max: 2000, noNaN: true }),
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        (form, heightM, upwindLengthM, fromCrestM, z) => {
          const rise: Rise = { form, heightM, upwindLengthM, downwindLengthM: upwindLengthM };
          const factor = orographyFactor(rise, { fromCrestM, heightM: z });
          expect(factor).toBeGreaterThanOrEqual(1);
          expect(factor).toBeLessThan(2);
        },
      ),
      { seed: 5, numRuns: 400 },
    );
  });
});

describe('shelter behind a barrier', () => {
  const hedge = { heightM: 2, porosity: 0.5 };
  const behind = (heights: number) => ({ distanceM: heights * 2, heightM: 0.5, roughnessLengthM: 0.03 });

  it.each([
    [5, 0.3968, 0.4767],
    [10, 0.1527, 0.1838],
    [15, 0.0863, 0.104],
    [20, 0.0573, 0.0691],
    [30, 0.0321, 0.0387],
  ])('at %i heights (FS W-19, W-20; constants from memory; sanity only)', (heights, perera, taylorSalmon) => {
    expect(shelterPerera1981(hedge, behind(heights))).toBeCloseTo(perera, 4);
    expect(shelterTaylorSalmon1993(hedge, behind(heights))).toBeCloseTo(taylorSalmon, 4);
  });

  it('has the wake height of FS W-21 (sanity only)', () => {
    const at = { distanceM: 20, heightM: 0.5, roughnessLengthM: 0.03 };
    expect(wakeHeightPerera1981(hedge, at)).toBeCloseTo(0.28407, 5);
  });

  it('is a share that falls with porosity, for every barrier', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 5, max: 50, noNaN: true }),
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        (heightM, one, other, heights, z) => {
          const at = { distanceM: heights * heightM, heightM: z, roughnessLengthM: 0.03 };
          for (const model of [shelterPerera1981, shelterTaylorSalmon1993]) {
            const tight = model({ heightM, porosity: Math.min(one, other) }, at);
            const loose = model({ heightM, porosity: Math.max(one, other) }, at);
            expect(tight >= 0 && tight <= 1).toBe(true);
            expect(loose).toBeLessThanOrEqual(tight);
          }
        },
      ),
      { seed: 6, numRuns: 200 },
    );
  });

  it('refuses a place nearer than five heights', () => {
    expect(() => shelterPerera1981(hedge, behind(3))).toThrow('of at least 10 for distanceM but received 6');
  });
});
