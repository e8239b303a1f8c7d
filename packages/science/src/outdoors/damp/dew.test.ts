import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  clearNetLongwaveWm2,
  clearSkyEmissivityBrutsaert1975,
  dewOnsetHumidity,
  dryLeafDifferenceK,
  dryingTime,
  equilibriumDewWm2,
  evaporationWm2,
  waterRateMmH,
} from './dew.ts';
import { saturationSlopeKpa } from './humidity.ts';
import { leafWetnessCart2002 } from './wetness.ts';

const surface = (
  netRadiationWm2: number,
  temperatureC: number,
  relativeHumidity: number,
  airResistanceSm: number,
) => ({
  netRadiationWm2,
  temperatureC,
  relativeHumidity,
  airResistanceSm,
});

describe('dew', () => {
  it('at equilibrium (FS D-10, D-11; sanity only)', () => {
    expect(saturationSlopeKpa(10)).toBeCloseTo(0.0823, 4);
    expect(Math.abs(equilibriumDewWm2(-60, 10) - -32.99)).toBeLessThan(0.02);
    expect(Math.abs(waterRateMmH(equilibriumDewWm2(-60, 10), 10) + 0.0479)).toBeLessThan(0.0001);
    expect(Math.abs(waterRateMmH(equilibriumDewWm2(-60, 15), 15) + 0.0543)).toBeLessThan(0.0002);
    expect(Math.abs(waterRateMmH(equilibriumDewWm2(-40, 5), 5) + 0.0275)).toBeLessThan(0.0002);
  });

  // 0.1 %: the reference does not print its density of air.
  it.each([
    [0.95, -27.81],
    [0.9, -22.63],
  ])('by Penman-Monteith at humidity %f (FS D-12; sanity only)', (RH, LE) => {
    expect(Math.abs(evaporationWm2(surface(-60, 10, RH, 100)) / LE - 1)).toBeLessThan(0.001);
  });

  it.each([
    [30, 0.905],
    [60, 0.809],
    [100, 0.682],
  ])('starts at a lower humidity in stiller air, ra %i (FS D-13; sanity only)', (ra, RH) => {
    const onset = dewOnsetHumidity({ netRadiationWm2: -60, temperatureC: 10, airResistanceSm: ra });
    expect(Math.abs(onset - RH)).toBeLessThan(0.0006);
  });

  it('on a dry leaf and under a clear sky (FS D-14, D-15; sanity only)', () => {
    expect(Math.abs(dryLeafDifferenceK(-60, 10, 60) - -2.85)).toBeLessThan(0.005);
    expect(clearSkyEmissivityBrutsaert1975(10, 0.9)).toBeCloseTo(0.7802, 3);
    expect(Math.abs(clearNetLongwaveWm2(10, 0.9, 0.97) - -77.7)).toBeLessThan(0.1);
  });

  it.each([
    ['D-16', 10, 0.95, 1, 0.8, true, 16.2915],
    ['D-17', 15, 0.8, 1, 3.4, false, 13.5159],
    ['D-18', 20, 0.7, 1, 5.6, false, null],
    ['D-19', 10, 0.95, 4, 0.8, false, -4.7776],
  ])('leaf wetness, FS %s (sanity only)', (_no, T, RH, V, DPD, wet, index) => {
    const found = leafWetnessCart2002({
      temperatureC: T,
      relativeHumidity: RH,
      windSpeedMs: V,
      dewPointDepressionK: DPD,
    });
    expect(found.wet).toBe(wet);
    if (index === null) expect(found.index).toBeNull();
    else expect(found.index).toBeCloseTo(index, 3);
  });

  it.each([
    ['D-20', 150, 12, 0.85, 60, 0.1664, 1.2],
    ['D-21', 300, 15, 0.75, 40, 0.3804, 0.53],
  ])('drying, FS %s (sanity only)', (_no, Rn, T, RH, ra, rate, hours) => {
    const air = surface(Rn, T, RH, ra);
    expect(Math.abs(waterRateMmH(evaporationWm2(air), T) / rate - 1)).toBeLessThan(0.002);
    const drying = dryingTime(0.2, air);
    expect(drying.kind === 'dries' && Math.abs(drying.hours - hours) < 0.03).toBe(true);
  });

  it('says when nothing dries', () => {
    expect(dryingTime(0.2, surface(-60, 10, 0.95, 100))).toEqual({ kind: 'staysWet' });
  });

  it('dries faster in drier air and stronger sun, and is never NaN', () => {
    const share = fc.double({ min: 0.05, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        share,
        share,
        fc.double({ min: -40, max: 45, noNaN: true }),
        fc.double({ min: -100, max: 800, noNaN: true }),
        fc.double({ min: 5, max: 400, noNaN: true }),
        (one, other, T, Rn, ra) => {
          const dry = evaporationWm2(surface(Rn, T, Math.min(one, other), ra));
          const damp = evaporationWm2(surface(Rn, T, Math.max(one, other), ra));
          expect(dry).toBeGreaterThanOrEqual(damp);
          expect(evaporationWm2(surface(Rn + 50, T, one, ra))).toBeGreaterThan(
            evaporationWm2(surface(Rn, T, one, ra)),
          );
        },
      ),
      { seed: 10, numRuns: 200 },
    );
  });
});
