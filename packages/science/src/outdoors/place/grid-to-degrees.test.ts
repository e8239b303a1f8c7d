import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  degreesOfMgrs,
  degreesOfNationalGridReference,
  degreesOfUtm,
  nationalGridOfReference,
} from './grid-to-degrees.ts';
import { mgrsOfDegrees, nationalGridReference, utmOfDegrees } from './map-grid.ts';

const seed = 20261125;

describe('grids read back', () => {
  it.each([
    [48.8582, 2.2945, 31, 'N', 448251.795, 5411932.678],
    [-33.8568, 151.2153, 56, 'S', 334900.57, 6252288.753],
    // Mistake 6: a published example for this place is 3 m off; three libraries give this.
    [51.500721, -0.12443, 30, 'N', 699579.24, 5709430.36],
  ] as const)(
    'UTM to %f, %f (FS G-5, G-7; mistake 6; 1e-6 degree for the printed metres)',
    (lat, lon, zone, hemisphere, eastingM, northingM) => {
      const back = degreesOfUtm({ zone, hemisphere, eastingM, northingM });
      expect(Math.abs(back.latitudeDeg - lat)).toBeLessThan(1e-6);
      expect(Math.abs(back.longitudeDeg - lon)).toBeLessThan(1e-6);
    },
  );

  it.each([
    ['31U DQ 48251 11932', 48.8582, 2.2945],
    ['32VLN0779312209', 60.5, 5.5],
    ['33xva 00000 00000', null, null],
    ['33XVG7679158567', 78, 14],
    ['56HLH3490052288', -33.8568, 151.2153],
  ])('MGRS %s (FS G-5 to G-7; within the square of 1 m)', (reference, lat, lon) => {
    if (lat === null || lon === null) {
      expect(Number.isFinite(degreesOfMgrs(reference).latitudeDeg)).toBe(true);
      return;
    }
    const back = degreesOfMgrs(reference);
    expect(Math.abs(back.latitudeDeg - lat)).toBeLessThan(1.5e-5);
    expect(Math.abs(back.longitudeDeg - lon)).toBeLessThan(7e-5);
    expect(back.squareM).toBe(1);
  });

  it('a national grid reference names the middle of its square (FS G-3)', () => {
    expect(nationalGridOfReference('TG 51409 13177')).toEqual({
      eastingM: 651409.5,
      northingM: 313177.5,
      squareM: 1,
    });
    expect(nationalGridOfReference('tg51401317')).toMatchObject({ eastingM: 651405, squareM: 10 });
    expect(nationalGridOfReference('SV')).toMatchObject({
      eastingM: 50_000,
      northingM: 50_000,
      squareM: 100_000,
    });
    // FS G-4: NN 16677 71281 is 56.79685, -5.00351.
    const back = degreesOfNationalGridReference('NN 16677 71281');
    expect(Math.abs(back.latitudeDeg - 56.79685)).toBeLessThan(2e-5);
    expect(Math.abs(back.longitudeDeg + 5.00351)).toBeLessThan(2e-5);
  });

  it('are the inverse of what writes them', () => {
    const lat = fc.double({ min: -79, max: 83, noNaN: true });
    const lon = fc.double({ min: -179.9, max: 179.9, noNaN: true });
    fc.assert(
      fc.property(lat, lon, fc.integer({ min: 2, max: 5 }), (latitudeDeg, longitudeDeg, digits) => {
        const utm = utmOfDegrees({ latitudeDeg, longitudeDeg });
        if (utm.kind === 'outside') return;
        const back = degreesOfUtm(utm);
        expect(Math.abs(back.latitudeDeg - latitudeDeg)).toBeLessThan(1e-7);
        expect(Math.abs(back.longitudeDeg - longitudeDeg)).toBeLessThan(1e-6);
        const written = mgrsOfDegrees({ latitudeDeg, longitudeDeg }, digits);
        if (written.kind === 'outside') return;
        const square = degreesOfMgrs(written.reference);
        expect(Math.abs(square.latitudeDeg - latitudeDeg) * 111_000).toBeLessThan(square.squareM);
      }),
      { seed, numRuns: 200 },
    );
    fc.assert(
      fc.property(fc.nat(699_999), fc.nat(1_299_999), fc.constantFrom(2, 4, 6, 8, 10), (e, n, figures) => {
        const reference = nationalGridReference({ eastingM: e, northingM: n }, figures);
        const back = nationalGridOfReference(reference);
        expect(nationalGridReference(back, figures)).toBe(reference);
        expect(Math.abs(back.eastingM - e)).toBeLessThanOrEqual(back.squareM / 2);
        expect(Math.abs(back.northingM - n)).toBeLessThanOrEqual(back.squareM / 2);
      }),
      { seed, numRuns: 200 },
    );
  });

  it.each(['', 'II', '61UDQ4825111932', '31IDQ48251', '31UDQ482', '31U'])(
    '%j is no MGRS reference',
    (text) => {
      expect(() => degreesOfMgrs(text)).toThrow('an MGRS reference');
    },
  );

  it.each(['', 'ZZ 12 34', 'TG 123', 'TI 12 34', 'AA 1 1', 'HA 12 34'])(
    '%j is no national grid reference',
    (text) => {
      expect(() => nationalGridOfReference(text)).toThrow('a national grid reference');
    },
  );

  it('refuse what is beyond the grid', () => {
    expect(() => degreesOfUtm({ zone: 61, hemisphere: 'N', eastingM: 5e5, northingM: 5e6 })).toThrow('zone');
    expect(() => degreesOfUtm({ zone: 31, hemisphere: 'N', eastingM: 5e6, northingM: 5e6 })).toThrow(
      'eastingM',
    );
  });
});
