import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  headingUncertaintyM,
  receiverUncertaintyM,
  squareUncertaintyM,
  stepOnGround,
} from './coordinate-uncertainty.ts';
import { cellOfPlace, generalisingStepsDeg, spatialFit } from './generalise.ts';
import {
  airyDegreesOfNationalGrid,
  degreesOfNationalGrid,
  equalAreaEuropeOfDegrees,
  geohashOfDegrees,
  mgrsOfDegrees,
  nationalGridOfAiryDegrees,
  nationalGridOfDegrees,
  nationalGridReference,
  utmOfDegrees,
  utmZone,
} from './map-grid.ts';

const at = (latitudeDeg: number, longitudeDeg: number) => ({ latitudeDeg, longitudeDeg });
const on = <T extends { kind: string }>(found: T): Extract<T, { kind: 'onGrid' }> => {
  if (found.kind !== 'onGrid') throw new Error(found.kind);
  return found as Extract<T, { kind: 'onGrid' }>;
};

describe('the British national grid', () => {
  const caister = { eastingM: 651409.903, northingM: 313177.27 };

  it('agrees with the worked example of the Ordnance Survey, both ways (FS G-1, G-2)', () => {
    const grid = nationalGridOfAiryDegrees(at(52 + 39 / 60 + 27.2531 / 3600, 1 + 43 / 60 + 4.5177 / 3600));
    expect(Math.abs(grid.eastingM - caister.eastingM)).toBeLessThan(0.001);
    expect(Math.abs(grid.northingM - caister.northingM)).toBeLessThan(0.001);
    const back = airyDegreesOfNationalGrid(caister);
    expect(Math.abs(back.latitudeDeg - 52.6575703)).toBeLessThan(1e-7);
    expect(Math.abs(back.longitudeDeg - 1.7179216)).toBeLessThan(1e-7);
  });

  it('cuts references off, never rounds (FS G-3)', () => {
    expect(nationalGridReference(caister, 10)).toBe('TG 51409 13177');
    expect(nationalGridReference(caister, 8)).toBe('TG 5140 1317');
  });

  it.each([
    [51.4779, -0.0015, 538882.85, 177331.43, 'TQ 38882 77331'],
    [56.79685, -5.00351, 216677.1, 771281.53, 'NN 16677 71281'],
    [60.3, -1.3, 438791.3, 1157523.08, 'HU 38791 57523'],
  ])('from WGS84 %f, %f by seven parameters (FS G-4, +-0.1 m)', (lat, lon, easting, northing, reference) => {
    const grid = on(nationalGridOfDegrees(at(lat, lon)));
    expect(Math.abs(grid.eastingM - easting)).toBeLessThan(0.1);
    expect(Math.abs(grid.northingM - northing)).toBeLessThan(0.1);
    expect(nationalGridReference(grid, 10)).toBe(reference);
  });

  it('goes round, and does not reach beyond Britain', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 699_999 }), fc.integer({ min: 0, max: 1_299_999 }), (e, n) => {
        const back = on(
          nationalGridOfDegrees(degreesOfNationalGrid({ eastingM: e + 0.5, northingM: n + 0.5 })),
        );
        expect(Math.abs(back.eastingM - e - 0.5)).toBeLessThan(0.01);
        expect(Math.abs(back.northingM - n - 0.5)).toBeLessThan(0.01);
      }),
      { seed: 12, numRuns: 100 },
    );
    expect(nationalGridOfDegrees(at(48.8582, 2.2945)).kind).toBe('outside');
    expect(nationalGridOfDegrees(at(-33, 151)).kind).toBe('outside');
  });
});

describe('UTM, MGRS and the others', () => {
  it.each([
    [48.8582, 2.2945, 31, 'N', 448251.795, 5411932.678],
    [-33.8568, 151.2153, 56, 'S', 334900.57, 6252288.753],
    // Mistake 6: a published example for this place is 3 m off; three libraries give this.
    [51.500721, -0.12443, 30, 'N', 699579.24, 5709430.36],
  ])('UTM of %f, %f (FS G-5, G-7; mistake 6)', (lat, lon, zone, hemisphere, easting, northing) => {
    const utm = on(utmOfDegrees(at(lat, lon)));
    expect([utm.zone, utm.hemisphere]).toEqual([zone, hemisphere]);
    expect(Math.abs(utm.eastingM - easting)).toBeLessThan(0.01);
    expect(Math.abs(utm.northingM - northing)).toBeLessThan(0.01);
  });

  it.each([
    [48.8582, 2.2945, '31UDQ4825111932'],
    [60.5, 5.5, '32VLN0779312209'],
    [61, 3.5, '32VKN0277075278'],
    [72.5, 9.5, '33XUA1563353151'],
    [78, 14, '33XVG7679158567'],
    [-33.8568, 151.2153, '56HLH3490052288'],
  ])('MGRS of %f, %f is %s (FS G-5 to G-7)', (lat, lon, reference) => {
    expect(on(mgrsOfDegrees(at(lat, lon), 5)).reference).toBe(reference);
    expect(reference.startsWith(String(utmZone(at(lat, lon))))).toBe(true);
  });

  it('geohash and equal area (FS G-8, G-9)', () => {
    expect(geohashOfDegrees(at(57.64911, 10.40744), 11)).toBe('u4pruydqqvj');
    expect(geohashOfDegrees(at(42.605, -5.603), 5)).toBe('ezs42');
    const grid = equalAreaEuropeOfDegrees(at(50, 5));
    expect(Math.abs(grid.eastingM - 3962799.45)).toBeLessThan(0.01);
    expect(Math.abs(grid.northingM - 2999718.85)).toBeLessThan(0.01);
  });

  it('is finite wherever it reaches, and says where it does not', () => {
    expect(utmOfDegrees(at(85, 0)).kind).toBe('outside');
    expect(mgrsOfDegrees(at(-81, 0), 5).kind).toBe('outside');
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.oneof(fc.constantFrom(-180, 180), fc.double({ min: -180, max: 180, noNaN: true })),
        (lat, lon) => {
          const utm = utmOfDegrees(at(lat, lon));
          if (utm.kind === 'outside') return;
          expect(utm.zone >= 1 && utm.zone <= 60).toBe(true);
          expect(Number.isFinite(utm.eastingM + utm.northingM)).toBe(true);
        },
      ),
      { seed: 13, numRuns: 200 },
    );
    expect(() => utmOfDegrees(at(95, 0))).toThrow('for latitudeDeg but received 95');
  });
});

describe('uncertainty', () => {
  it.each([
    [0, 156903.5],
    [30, 146962.1],
    [60, 124604.7],
    [85, 112108.8],
  ])('one degree at %i N (FS G-10)', (lat, metres) => {
    expect(Math.abs(stepOnGround(1, lat).diagonalM - metres)).toBeLessThan(0.1);
  });

  it('0.01 deg, 0.5 deg, and at 52 N (FS G-11 to G-13, the last sanity only; mistake 14)', () => {
    const fine = stepOnGround(0.01, 10.27);
    expect(Math.abs(fine.northM - 1106.1)).toBeLessThan(0.1);
    expect(Math.abs(fine.eastM - 1095.5)).toBeLessThan(0.1);
    expect(Math.abs(fine.diagonalM - 1556.8)).toBeLessThan(0.1);
    const half = stepOnGround(0.5, 10);
    expect(half.diagonalM / 1000).toBeCloseTo(77.87, 2);
    // The printed components 55.6 and 54.75 do not square to it; these do.
    expect(half.northM / 1000).toBeCloseTo(55.3, 2);
    expect(half.eastM / 1000).toBeCloseTo(54.82, 2);
    expect(Math.abs(stepOnGround(0.1, 52).diagonalM - 13076)).toBeLessThan(0.6);
    expect(Math.abs(stepOnGround(0.01, 52).diagonalM - 1307.6)).toBeLessThan(0.06);
  });

  it('heading, squares and receivers (FS G-14 to G-16, the last sanity only)', () => {
    expect(headingUncertaintyM(10_000, 22.5) / 1000).toBeCloseTo(3.9, 2);
    expect(squareUncertaintyM(100)).toBeCloseTo(70.71, 2);
    expect(squareUncertaintyM(1000)).toBeCloseTo(707.1, 1);
    expect(squareUncertaintyM(2000)).toBeCloseTo(1414.2, 1);
    expect(squareUncertaintyM(10_000)).toBeCloseTo(7071.1, 1);
    expect(receiverUncertaintyM(5)).toBe(10);
  });
});

describe('a place made coarse', () => {
  it('has the cells and centres of FS G-18 (sanity only), written as decimals', () => {
    const high = cellOfPlace(at(52.34567, -1.23456), 0.1);
    expect([high.southDeg, high.northDeg, high.westDeg, high.eastDeg]).toEqual([52.3, 52.4, -1.3, -1.2]);
    expect(high.centre).toEqual(at(52.35, -1.25));
    expect(cellOfPlace(at(52.34567, -1.23456), 0.01).centre).toEqual(at(52.345, -1.235));
  });

  it('has the spatial fit of FS G-17', () => {
    expect(spatialFit(1e8, Math.PI * 1e6)).toBeCloseTo(31.83, 2);
  });

  it('is the same for every place of the cell, holds the place, and covers the cell by its radius', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.constantFrom(...generalisingStepsDeg),
        (lat, lon, step) => {
          const cell = cellOfPlace(at(lat, lon), step);
          expect(cellOfPlace(cell.centre, step)).toEqual(cell);
          expect(cellOfPlace(at(cell.southDeg, cell.westDeg), step)).toEqual(cell);
          expect(lat >= cell.southDeg - 1e-9 && lat <= cell.northDeg + 1e-9).toBe(true);
          expect(lon >= cell.westDeg - 1e-9 && lon <= cell.eastDeg + 1e-9).toBe(true);
          const { northM, eastM } = stepOnGround(step, cell.centre.latitudeDeg);
          expect(cell.uncertaintyM).toBeGreaterThanOrEqual(Math.hypot(northM, eastM) / 2 - 0.01);
        },
      ),
      { seed: 14, numRuns: 500 },
    );
  });
});
