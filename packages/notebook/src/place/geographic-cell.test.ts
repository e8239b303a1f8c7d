import { DomainError } from '@tepal/science';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geographicCell, precisionDiagonalM } from './geographic-cell.ts';

describe('the diagonal of a coordinate precision', () => {
  // FS G-10, G-11 published (Chapman & Wieczorek 2020), G-13 calculated. Half the last digit, but
  // 0.6 m at the equator, where the printed value is 156904 and the equation gives 156903.47.
  it.each([
    ['G-10', 0, 1, 156_904, 0.6],
    ['G-10', 30, 1, 146_962, 0.5],
    ['G-10', 60, 1, 124_605, 0.5],
    ['G-10', 85, 1, 112_109, 0.5],
    ['G-11', 10.27, 0.01, 1556.8, 0.05],
    ['G-13', 52, 0.1, 13_076, 0.5],
    ['G-13', 52, 0.01, 1307.6, 0.05],
  ])('%s at %d north, %d degree', (_no, latitude, precision, expected, tolerance) => {
    expect(Math.abs(precisionDiagonalM(latitude, precision) - expected)).toBeLessThanOrEqual(tolerance);
  });
});

describe('a geographic cell', () => {
  it('has the published middles of FS G-18', () => {
    expect(geographicCell(52.34567, -1.23456, 1)).toMatchObject({
      centreLatitudeDeg: 52.35,
      centreLongitudeDeg: -1.25,
    });
    expect(geographicCell(52.34567, -1.23456, 2)).toMatchObject({
      centreLatitudeDeg: 52.345,
      centreLongitudeDeg: -1.235,
    });
  });

  it('begins at its own edge, at 0, below 0, and at the ends of the Earth', () => {
    expect(geographicCell(52.3, 0, 1)).toMatchObject({ centreLatitudeDeg: 52.35, centreLongitudeDeg: 0.05 });
    expect(geographicCell(-0.01, -0.01, 1)).toMatchObject({
      centreLatitudeDeg: -0.05,
      centreLongitudeDeg: -0.05,
    });
    expect(geographicCell(90, 180, 0)).toMatchObject({ centreLatitudeDeg: 89.5, centreLongitudeDeg: 179.5 });
    expect(geographicCell(-90, -180, 0)).toMatchObject({
      centreLatitudeDeg: -89.5,
      centreLongitudeDeg: -179.5,
    });
  });

  it('holds the place within its uncertainty', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -89, max: 89, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.constantFrom(0 as const, 1 as const, 2 as const, 3 as const),
        (latitude, longitude, decimals) => {
          const cell = geographicCell(latitude, longitude, decimals);
          const step = 10 ** -decimals;
          expect(Math.abs(cell.centreLatitudeDeg - latitude)).toBeLessThanOrEqual(step / 2 + 1e-9);
          expect(Math.abs(cell.centreLongitudeDeg - longitude)).toBeLessThanOrEqual(step / 2 + 1e-9);
          // Great circle on the sphere of the larger radius: longer than the ellipsoid's way by under 1 %.
          const rad = Math.PI / 180;
          const h =
            Math.sin(((cell.centreLatitudeDeg - latitude) * rad) / 2) ** 2 +
            Math.cos(latitude * rad) *
              Math.cos(cell.centreLatitudeDeg * rad) *
              Math.sin(((cell.centreLongitudeDeg - longitude) * rad) / 2) ** 2;
          expect(2 * 6_378_137 * Math.asin(Math.sqrt(h))).toBeLessThanOrEqual(cell.uncertaintyM * 1.01);
        },
      ),
      { seed: 20260614, numRuns: 500 },
    );
  });

  it('refuses latitude 95 and NaN', () => {
    expect(() => geographicCell(95, 0, 1)).toThrow(DomainError);
    expect(() => geographicCell(0, NaN, 1)).toThrow('expected a longitude from -180 to 180 degrees');
  });
});
