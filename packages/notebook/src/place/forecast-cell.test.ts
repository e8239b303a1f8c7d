import { describe, expect, it } from 'vitest';
import { forecastCellOfSite } from './forecast-cell.ts';

const at = (
  latitudeDeg: number,
  longitudeDeg: number,
  more: { altitudeM?: number; uncertaintyM?: number } = {},
) =>
  forecastCellOfSite({
    region: null,
    position: {
      ...{ latitudeDeg, longitudeDeg, altitudeM: more.altitudeM ?? null },
      coordinateUncertaintyM: more.uncertaintyM ?? null,
    },
  });

describe('the cell that a forecast service is asked about', () => {
  it('is the published grid of high sensitivity, with the altitude to 50 m (FS G-18)', () => {
    expect(at(52.34567, -1.23456, { altitudeM: 131 })).toEqual({
      kind: 'cell',
      cell: { latitudeDeg: 52.35, longitudeDeg: -1.25, altitudeM: 150 },
    });
    expect(at(52.34567, -1.23456)).toMatchObject({ cell: { altitudeM: null } });
  });

  it('is a cell at the poles, at the date line and about 0 as everywhere', () => {
    expect(at(90, 180)).toMatchObject({ cell: { latitudeDeg: 89.95, longitudeDeg: 179.95 } });
    expect(at(-90, -180)).toMatchObject({ cell: { latitudeDeg: -89.95, longitudeDeg: -179.95 } });
    expect(at(-0.01, 0.01)).toMatchObject({ cell: { latitudeDeg: -0.05, longitudeDeg: 0.05 } });
  });

  it('is none where the place is known less well than the coarsest grid', () => {
    expect(at(52.3, -1.2, { uncertaintyM: 500_000 }).kind).toBe('tooVague');
  });
});
