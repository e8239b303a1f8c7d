import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clearSkyRadiationHaurwitz1945, clearSkyRadiationKastenCzeplak1980 } from './cloud.ts';
import { iesDaylight } from './daylight.ts';
import {
  higherHorizon,
  horizonAltitudeDeg,
  horizonOfSlope,
  horizonThroughPoints,
  openSkyShare,
  sunAboveHorizonDeg,
} from './horizon.ts';
import { overcastUprightOverLevel } from './overcast.ts';
import { lightUnderHorizon, skyLight, skyLightOfRadiation } from './sky.ts';
import { uprightLight } from './upright.ts';

describe('the horizon round a place', () => {
  it('is straight between its entries, and closes through north', () => {
    expect(horizonAltitudeDeg([10], 123)).toBe(10);
    expect(horizonAltitudeDeg([0, 10, 20, 30], 45)).toBe(5);
    expect(horizonAltitudeDeg([0, 10, 20, 30], 315)).toBe(15);
    expect(horizonAltitudeDeg([0, 10, 20, 30], -45)).toBe(15);
    expect(() => horizonAltitudeDeg([], 0)).toThrow(
      'expected at least one altitude for profile but received 0',
    );
  });

  it('goes through the points that were measured', () => {
    const profile = horizonThroughPoints([
      { azimuthDeg: 350, altitudeDeg: 4 },
      { azimuthDeg: 90, altitudeDeg: 12 },
      { azimuthDeg: 10, altitudeDeg: 8 },
    ]);
    expect(horizonAltitudeDeg(profile, 90)).toBe(12);
    expect(horizonAltitudeDeg(profile, 0)).toBeCloseTo(6, 9);
    expect(horizonAltitudeDeg(profile, 50)).toBeCloseTo(10, 9);
    expect(horizonThroughPoints([{ azimuthDeg: 200, altitudeDeg: 7 }])).toEqual(new Array(72).fill(7));
  });

  it("is the slope's own angle straight uphill, and none downhill", () => {
    const slope = horizonOfSlope({ slopeDeg: 20, aspectDeg: 180 });
    expect(horizonAltitudeDeg(slope, 0)).toBeCloseTo(20, 9);
    expect(horizonAltitudeDeg(slope, 180)).toBe(0);
    expect(horizonAltitudeDeg(slope, 90)).toBeCloseTo(0, 9);
  });

  it('lets the sun through above it: FS T-8 by its numbers (sanity only)', () => {
    const profile = [8.489];
    expect(sunAboveHorizonDeg({ apparentAltitudeDeg: 8, azimuthDeg: 90 }, profile)).toBeLessThan(0);
    expect(sunAboveHorizonDeg({ apparentAltitudeDeg: 9, azimuthDeg: 90 }, profile)).toBeGreaterThan(0);
  });

  it('leaves of an even sky what the closed forms say (as FS T-9, level receiver)', () => {
    expect(openSkyShare([0])).toBe(1);
    expect(openSkyShare([30])).toBeCloseTo(0.75, 9);
    expect(openSkyShare([45, 0])).toBeCloseTo(0.75, 9);
    expect(openSkyShare([-20])).toBe(1); // never more than a whole sky (mistake 11)
  });

  it('is never below either of two', () => {
    const profile = fc.array(fc.double({ min: 0, max: 80, noNaN: true }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(profile, profile, fc.integer({ min: 0, max: 71 }), (one, other, i) => {
        const both = higherHorizon(one, other);
        expect(both[i]!).toBeGreaterThanOrEqual(horizonAltitudeDeg(one, i * 5) - 1e-9);
        expect(openSkyShare(both)).toBeLessThanOrEqual(1);
      }),
      { seed: 31, numRuns: 100 },
    );
  });
});

describe('lit side against shaded side', () => {
  it('does not differ under a full overcast, and gets 40 % of the top and half of what grass sends up (FS L-8)', () => {
    const light = uprightLight({ illuminanceLux: 10_000, diffuseShare: 1, sunAltitudeDeg: 40 }, 0.2);
    expect(light.stops).toBe(0);
    expect(light.shadedLux).toBeCloseTo(10_000 * (overcastUprightOverLevel + 0.1), 6);
  });

  it('differs by stops in clear sun, more with the sun low', () => {
    const stops = (a: number) => {
      const { globalLux, diffuseLux } = iesDaylight(a, 172, 'clear');
      return uprightLight({
        illuminanceLux: globalLux,
        diffuseShare: diffuseLux / globalLux,
        sunAltitudeDeg: a,
      }).stops;
    };
    expect(stops(30)).toBeGreaterThan(2);
    expect(stops(60)).toBeLessThan(stops(30));
  });

  it('is finite with the sun on the horizon, under it, and with no light', () => {
    for (const sunAltitudeDeg of [-90, -1, 0, 0.01, 90]) {
      const { litLux, stops } = uprightLight({ illuminanceLux: 500, diffuseShare: 0.5, sunAltitudeDeg });
      expect(Number.isFinite(litLux + stops)).toBe(true);
    }
    expect(uprightLight({ illuminanceLux: 0, diffuseShare: 1, sunAltitudeDeg: -20 }).stops).toBe(0);
  });
});

describe('the light from forecast radiation', () => {
  const noon = { sunAltitudeDeg: 45, dewPointC: 10 };

  it("is soft where little comes through, hard where much does, and agrees with the cloud's own sky", () => {
    const dull = skyLightOfRadiation({ ...noon, radiationWm2: 120 });
    const clear = skyLightOfRadiation({ ...noon, radiationWm2: 700 });
    expect(dull.diffuseShare).toBeGreaterThan(0.95);
    expect(clear.diffuseShare).toBeLessThan(0.35);
    // 15 %: two models of the same cloudless sky.
    const modelled = skyLight({ ...noon, dayOfYear: 172, cloud: { total: 0 } });
    const same = skyLightOfRadiation({ ...noon, radiationWm2: modelled.radiationWm2 });
    expect(Math.abs(same.illuminanceLux / modelled.illuminanceLux - 1)).toBeLessThan(0.15);
    expect(same.cover).toBeLessThan(0.01);
  });

  it('is none in the dark', () => {
    expect(skyLightOfRadiation({ ...noon, radiationWm2: 0 }).illuminanceLux).toBe(0);
  });
});

describe('the light under a horizon', () => {
  const open = skyLight({ sunAltitudeDeg: 20, dayOfYear: 172, cloud: { total: 0 }, dewPointC: 10 });

  it('is the open light where nothing stands round, and the sky alone behind a hill', () => {
    expect(lightUnderHorizon(open, { openSky: 1, sunClears: true }).illuminanceLux).toBeCloseTo(
      open.illuminanceLux,
      6,
    );
    const behind = lightUnderHorizon(open, { openSky: 0.8, sunClears: false });
    expect(behind.illuminanceLux).toBeCloseTo(open.illuminanceLux * open.diffuseShare * 0.8, 6);
    expect([behind.diffuseShare, behind.lightingRatioStops]).toEqual([1, 0]);
  });

  it('is harder in a gap among trees than in the open', () => {
    const gap = lightUnderHorizon(open, { openSky: 0.4, sunClears: true });
    expect(gap.diffuseShare).toBeLessThan(open.diffuseShare);
  });
});

describe('the cloudless sky of Haurwitz', () => {
  it('has 0.057 as printed, not 0.059 (mistake 5)', () => {
    expect(clearSkyRadiationHaurwitz1945(30)).toBeCloseTo(489.8, 1);
    expect(Math.abs(clearSkyRadiationHaurwitz1945(30) - 487.9)).toBeGreaterThan(1);
  });

  it('agrees with Kasten and Czeplak within a fifth from 20° up, as means over places may', () => {
    for (let a = 20; a <= 80; a += 10) {
      const ratio = clearSkyRadiationHaurwitz1945(a) / clearSkyRadiationKastenCzeplak1980(a);
      expect(Math.abs(ratio - 1)).toBeLessThan(1 / 5);
    }
  });
});
