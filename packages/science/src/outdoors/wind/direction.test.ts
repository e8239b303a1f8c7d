import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shelterInWind, speedUpInWind, windFromAlong, type BarrierAtPlant } from './direction.ts';

const ridge = { form: 'ridge', heightM: 20, halfLengthM: 80, upslopeDeg: 90 } as const;
const hedge: BarrierAtPlant = {
  heightM: 2,
  porosity: 0.5,
  distanceM: 20,
  bearingDeg: 270,
  halfLengthM: null,
};
const low = { heightM: 0.5, roughnessLengthM: 0.03 };

describe('wind from a direction over a rise', () => {
  it('straight across is the rule itself (FS W-16; sanity only, constants from memory)', () => {
    expect(speedUpInWind(ridge, 2, 270)).toBeCloseTo(0.4639, 4);
    expect(speedUpInWind({ ...ridge, form: 'escarpment' }, 2, 270)).toBeCloseTo(0.1879, 4);
    expect(speedUpInWind({ ...ridge, form: 'hill' }, 2, 270)).toBeCloseTo(0.3619, 4);
  });

  it('is none along a ridge, and none down an edge', () => {
    expect(speedUpInWind(ridge, 2, 0)).toBe(0);
    expect(speedUpInWind(ridge, 2, 90)).toBeCloseTo(0.4639, 4);
    expect(speedUpInWind({ ...ridge, form: 'escarpment' }, 2, 90)).toBe(0);
    expect(speedUpInWind({ ...ridge, form: 'hill' }, 2, 0)).toBeCloseTo(0.3619, 4);
  });

  it('takes the direction as FROM: wind from the west climbs a slope that rises to the east (mistake 8)', () => {
    expect(windFromAlong(270, 270)).toBe(1);
    const edge = { ...ridge, form: 'escarpment' } as const;
    expect(speedUpInWind(edge, 2, 270)).toBeGreaterThan(0);
    expect(speedUpInWind(edge, 2, 90)).toBe(0);
  });

  it('falls as the wind turns, and is the same a full turn on', () => {
    let before = Infinity;
    for (let turn = 0; turn <= 90; turn += 5) {
      const here = speedUpInWind(ridge, 0.3, 270 - turn);
      expect(here).toBeLessThanOrEqual(before);
      before = here;
    }
    expect(speedUpInWind(ridge, 1, 0)).toBe(speedUpInWind(ridge, 1, 360));
  });
});

describe('wind from a direction behind a hedge', () => {
  it('straight over it is the fit itself (FS W-19; sanity only, constants from memory)', () => {
    expect(shelterInWind(hedge, low, 270)).toBeCloseTo(0.1527, 4);
    expect(shelterInWind({ ...hedge, distanceM: 10 }, low, 270)).toBeCloseTo(0.3968, 4);
  });

  it('is none from the other side, and none past the end of a short one', () => {
    expect(shelterInWind(hedge, low, 90)).toBe(0);
    expect(shelterInWind(hedge, low, 0)).toBe(0);
    const short = { ...hedge, halfLengthM: 8 };
    expect(shelterInWind(short, low, 270)).toBeGreaterThan(0);
    expect(shelterInWind(short, low, 310)).toBe(0);
  });

  it('counts nearer than five heights as five', () => {
    expect(shelterInWind({ ...hedge, distanceM: 1 }, low, 270)).toBeCloseTo(0.3968, 4);
  });

  it('is a share from every side', () => {
    const degrees = fc.double({ min: 0, max: 360, noNaN: true });
    fc.assert(
      fc.property(degrees, degrees, fc.double({ min: 0.1, max: 400, noNaN: true }), (from, at, distanceM) => {
        const loss = shelterInWind({ ...hedge, bearingDeg: at, distanceM }, low, from);
        expect(loss >= 0 && loss <= 1).toBe(true);
      }),
      { seed: 32, numRuns: 300 },
    );
  });
});
