import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dewPointC,
  dewPointDepressionK,
  pressureAtAltitudeKpa,
  psychrometricConstantKpa,
  relativeHumidity,
  saturationVapourPressureHpa,
  vapourCoefficients,
  vapourPressureFromPsychrometerKpa,
  wetBulbStull2011C,
} from './humidity.ts';

const { fao56, wmo, alduchovEskridge1996 } = vapourCoefficients;
const fao = (T: number) => saturationVapourPressureHpa(T, fao56) / 10;

describe('humidity', () => {
  it('gives pressure and psychrometric constant at 1800 m (FS D-1, FAO-56 ex. 2)', () => {
    expect(pressureAtAltitudeKpa(1800)).toBeCloseTo(81.8, 1);
    expect(psychrometricConstantKpa(pressureAtAltitudeKpa(1800))).toBeCloseTo(0.054, 3);
  });

  it('gives saturation pressures (FS D-2, FAO-56 ex. 3)', () => {
    expect(fao(24.5)).toBeCloseTo(3.075, 3);
    expect(fao(15)).toBeCloseTo(1.705, 3);
    expect((fao(24.5) + fao(15)) / 2).toBeCloseTo(2.39, 2);
  });

  it('reads a psychrometer (FS D-3, FAO-56 ex. 4)', () => {
    expect(pressureAtAltitudeKpa(1200)).toBeCloseTo(87.9, 1);
    const ea = vapourPressureFromPsychrometerKpa({ dryBulbC: 25.6, wetBulbC: 19.5, pressureKpa: 87.9 });
    expect(ea).toBeCloseTo(1.91, 2);
  });

  it('gives the mean vapour pressure of a day (FS D-4, FAO-56 ex. 5)', () => {
    expect(fao(18)).toBeCloseTo(2.064, 3);
    expect(fao(25)).toBeCloseTo(3.168, 3);
    expect((fao(18) * 0.82 + fao(25) * 0.54) / 2).toBeCloseTo(1.7, 2);
  });

  it('gives humidity from the dew point (FS D-5)', () => {
    expect(100 * relativeHumidity(20, 15, wmo)).toBeCloseTo(72.9518531, 6);
    expect(100 * relativeHumidity(20, 15, alduchovEskridge1996)).toBeCloseTo(72.9387668, 6);
  });

  it.each([
    [20, 0.5, 9.255, 9.261, 9.27],
    [10, 0.9, 8.434, 8.435, 8.438],
  ])('gives the dew point at %f C, %f (FS D-6, D-7)', (T, RH, byWmo, byAlduchov, byFao) => {
    expect(Math.abs(dewPointC(T, RH, wmo) - byWmo)).toBeLessThan(0.0006);
    expect(Math.abs(dewPointC(T, RH, alduchovEskridge1996) - byAlduchov)).toBeLessThan(0.0006);
    expect(Math.abs(dewPointC(T, RH, fao56) - byFao)).toBeLessThan(0.0006);
  });

  it("gives Stull's wet bulb (FS D-8, D-9)", () => {
    expect(wetBulbStull2011C(20, 0.5)).toBeCloseTo(13.6993, 4);
    expect(wetBulbStull2011C(10, 0.9)).toBeCloseTo(8.92, 3);
  });

  it('gives the depression at 87 and 90 % (FS D-22; sanity only)', () => {
    expect(dewPointDepressionK(10, dewPointC(10, 0.87))).toBeCloseTo(2.066, 3);
    expect(dewPointDepressionK(10, dewPointC(10, 0.9))).toBeCloseTo(1.566, 3);
  });

  it('goes round from humidity to dew point and back, and never above saturation', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 50, noNaN: true }),
        fc.double({ min: 0.02, max: 1, noNaN: true }),
        (T, RH) => {
          const Td = dewPointC(T, RH);
          expect(Td).toBeLessThanOrEqual(T);
          expect(relativeHumidity(T, Td)).toBeCloseTo(RH, 9);
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });

  it('refuses a humidity in percent, and NaN', () => {
    expect(() => dewPointC(20, 50)).toThrow('for relativeHumidity but received 50');
    expect(() => relativeHumidity(NaN, 3)).toThrow('but received NaN');
  });
});
