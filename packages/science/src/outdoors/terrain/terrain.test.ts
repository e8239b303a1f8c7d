import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openSkyShare } from '../light/horizon.ts';
import { heightBetween, type ElevationGrid } from './elevation-grid.ts';
import { openSkyShareOfSlope } from './open-sky.ts';
import { topographicPositionM } from './relief.ts';
import {
  curvatureDropM,
  horizonAlongDeg,
  horizonOfTerrain,
  shelterOfTerrain,
  shelterWinstral2002Deg,
  type SightPoint,
} from './sight-line.ts';
import { incidenceCosine, slopeHorn1981, slopeOfTerrain, type HeightWindow } from './slope.ts';

const seed = 20261125;
const degree = Math.PI / 180;

const T1: HeightWindow = [50, 45, 50, 30, 30, 30, 8, 10, 10];
const T2: HeightWindow = [101, 92, 85, 101, 92, 85, 101, 91, 84];
const square = (s: number) => ({ eastM: s, northM: s });

function gridOf(
  columns: number,
  rows: number,
  height: (column: number, row: number) => number,
  cellM = 10,
): ElevationGrid {
  const heightsM = Float32Array.from({ length: columns * rows }, (_, i) =>
    height(i % columns, Math.floor(i / columns)),
  );
  const voids = new Uint8Array(columns * rows);
  return { columns, rows, cellEastM: cellM, cellNorthM: cellM, heightsM, voids, northDeg: 0 };
}

describe('slope and aspect by Horn 1981', () => {
  it('FS T-1: gradients, and 75.2577 (a vendor prints 75.2576; half the last digit)', () => {
    const { eastGradient, southGradient, slopeDeg } = slopeHorn1981(T1, square(5));
    expect(eastGradient).toBeCloseTo(0.05, 12);
    expect(southGradient).toBeCloseTo(-3.8, 12);
    expect(Math.abs(slopeDeg - 75.2577)).toBeLessThan(5e-5);
  });

  it('FS T-2: aspect 92.64 (half the last digit), GDAL 92.6426 (its last digit: single precision)', () => {
    const { eastGradient, southGradient, aspectDeg } = slopeHorn1981(T2, square(1));
    expect([eastGradient, southGradient]).toEqual([-8.125, -0.375]);
    expect(Math.abs(aspectDeg! - 92.64)).toBeLessThan(5e-3);
    expect(Math.abs(aspectDeg! - 92.6426)).toBeLessThan(1e-4);
  });

  it('FS T-3: planes that fall to the west and to the south', () => {
    const west = slopeHorn1981([10, 11, 12, 10, 11, 12, 10, 11, 12], square(10));
    expect(Math.abs(west.slopeDeg - 5.71059)).toBeLessThan(5e-6);
    expect(west.aspectDeg).toBe(270);
    const south = slopeHorn1981([12, 12, 12, 11, 11, 11, 10, 10, 10], square(10));
    expect(south.aspectDeg).toBe(180);
  });

  it('FS T-4: another author gives 74.0546 for T-1, so the two are not to be mixed', () => {
    // Zevenbergen and Thorne 1987: the four neighbours alone.
    const [, b, , d, , f, , h] = T1;
    const slope = Math.atan(Math.hypot((f - d) / 10, (h - b) / 10)) / degree;
    expect(Math.abs(slope - 74.0546)).toBeLessThan(5e-5);
    expect(Math.abs(slope - slopeHorn1981(T1, square(5)).slopeDeg)).toBeGreaterThan(1);
  });

  it('is exact on any plane, with cells of any shape, and level ground has no aspect', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 80, noNaN: true }),
        fc.double({ min: 0, max: 359.9, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        (slopeDeg, aspectDeg, eastM, northM) => {
          const fall = Math.tan(slopeDeg * degree);
          const [east, north] = [Math.sin(aspectDeg * degree) * fall, Math.cos(aspectDeg * degree) * fall];
          const window = [-1, 0, 1].flatMap((down) =>
            [-1, 0, 1].map((right) => -(right * eastM * east) + down * northM * north),
          ) as unknown as HeightWindow;
          const found = slopeHorn1981(window, { eastM, northM });
          expect(found.slopeDeg).toBeCloseTo(slopeDeg, 6);
          expect(Math.cos((found.aspectDeg! - aspectDeg) * degree)).toBeCloseTo(1, 9);
        },
      ),
      { seed, numRuns: 200 },
    );
    expect(slopeHorn1981([5, 5, 5, 5, 5, 5, 5, 5, 5], square(1))).toMatchObject({
      slopeDeg: 0,
      aspectDeg: null,
    });
  });

  it('on a grid: nothing at its edge or beside a void, and the aspect from true north', () => {
    const grid = gridOf(5, 5, (column) => column * 10);
    expect(slopeOfTerrain(grid, { column: 2.3, row: 1.8 })!.aspectDeg).toBe(270);
    expect(slopeOfTerrain({ ...grid, northDeg: 2 }, { column: 2, row: 2 })!.aspectDeg).toBeCloseTo(268, 9);
    expect(slopeOfTerrain(grid, { column: 0, row: 2 })).toBeNull();
    grid.voids[6] = 1;
    expect(slopeOfTerrain(grid, { column: 2, row: 2 })).toBeNull();
  });
});

describe('how the sun falls on it', () => {
  it.each([
    [30, 180, 30, 180, 0.86603],
    [30, 180, 30, 0, 0],
    [0, 0, 30, 123, 0.5],
    [20, 90, 10, 100, 0.49488],
  ])(
    'FS T-5 (sanity only): slope %d to %d, sun %d in %d',
    (slopeDeg, aspectDeg, altitudeDeg, azimuthDeg, expected) => {
      expect(
        Math.abs(incidenceCosine({ slopeDeg, aspectDeg }, { altitudeDeg, azimuthDeg }) - expected),
      ).toBeLessThan(5e-6);
    },
  );

  it('is 1 where the sun stands on the normal', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 89 }),
        fc.integer({ min: 0, max: 359 }),
        (slopeDeg, aspectDeg) => {
          const sun = { altitudeDeg: 90 - slopeDeg, azimuthDeg: aspectDeg };
          expect(incidenceCosine({ slopeDeg, aspectDeg }, sun)).toBeCloseTo(1, 12);
        },
      ),
      { seed, numRuns: 50 },
    );
  });
});

const T6: readonly SightPoint[] = (
  [
    [50, 3],
    [100, 12],
    [200, 15],
    [400, 60],
    [800, 70],
  ] as const
).map(([distanceM, heightM]) => ({ distanceM, heightM }));

describe('the horizon', () => {
  it('FS T-6 (sanity only): each point and the horizon, with curvature', () => {
    const each = T6.map((point) => horizonAlongDeg([point], 0.3));
    [3.091, 6.673, 4.204, 8.489, 4.979].forEach((expected, i) => {
      // The printed angles leave curvature out: 0.003 degrees of it at 800 m.
      expect(Math.abs(each[i]! - expected)).toBeLessThan(0.0036);
    });
    expect(Math.abs(horizonAlongDeg(T6, 0.3) - 8.487)).toBeLessThan(5e-4);
  });

  it('FS T-7 (sanity only): the drop at 800 m and at 10 km', () => {
    expect(Math.abs(curvatureDropM(800) - 0.0437)).toBeLessThan(5e-5);
    expect(Math.abs(curvatureDropM(10_000) - 6.828)).toBeLessThan(5e-4);
  });

  it('FS T-8 (sanity only): a sun of 8.0 is hidden, of 9.0 is not', () => {
    const horizon = horizonAlongDeg(T6, 0.3);
    expect(8 > horizon).toBe(false);
    expect(9 > horizon).toBe(true);
  });

  it('round a place on a grid: a wall to the north, level to the south, nothing made up for a void', () => {
    const grid = gridOf(41, 41, (_, row) => (row <= 10 ? 30 : 0));
    const options = { eyeM: 0, farthestM: 400, directions: 4 };
    const [north, east, south, west] = horizonOfTerrain(grid, { column: 20, row: 20 }, options)!;
    // 30 m up at 100 m.
    expect(Math.abs(north! - Math.atan(0.3) / degree)).toBeLessThan(0.01);
    expect([east, south, west]).toEqual([0, 0, 0]);
    grid.voids[20 * 41 + 20] = 1;
    expect(horizonOfTerrain(grid, { column: 20, row: 20 }, options)).toBeNull();
    grid.voids.fill(0);
    for (let column = 0; column < 41; column += 1) grid.voids[10 * 41 + column] = 1;
    const beyond = horizonOfTerrain(grid, { column: 20, row: 20 }, options)!;
    expect(Math.abs(beyond[0]! - Math.atan(30 / 110) / degree)).toBeLessThan(0.01);
  });

  it('turns with true north', () => {
    const grid = { ...gridOf(41, 41, (_, row) => (row <= 10 ? 30 : 0)), northDeg: 90 };
    const [north, , , west] = horizonOfTerrain(
      grid,
      { column: 20, row: 20 },
      { eyeM: 0, farthestM: 400, directions: 4 },
    )!;
    expect(north).toBe(0);
    expect(west).toBeGreaterThan(16);
  });
});

describe('how much of the sky a slope sees', () => {
  it('FS T-9: level ground by the closed forms, as the horizontal receiver has it', () => {
    const level = { slopeDeg: 0, aspectDeg: 0 };
    const half = Array.from({ length: 360 }, (_, i) => (i < 180 ? 45 : 0));
    expect(openSkyShareOfSlope(level, [0])).toBeCloseTo(1, 9);
    expect(openSkyShareOfSlope(level, [30])).toBeCloseTo(0.75, 9);
    // Straight between entries, the step of half the circle is a degree wide.
    expect(Math.abs(openSkyShareOfSlope(level, half) - 0.75)).toBeLessThan(0.001);
    expect(openSkyShareOfSlope(level, [30])).toBeCloseTo(openSkyShare([30]), 9);
  });

  it('FS T-10: the bottom of a plain valley with sides of 20 degrees sees cos 20', () => {
    const valley = Array.from(
      { length: 720 },
      (_, i) => Math.atan(Math.tan(20 * degree) * Math.abs(Math.sin((i / 2) * degree))) / degree,
    );
    expect(Math.abs(openSkyShareOfSlope({ slopeDeg: 0, aspectDeg: 0 }, valley) - 0.93969)).toBeLessThan(5e-6);
  });

  it.each([
    [20, 0.96985],
    [30, 0.93301],
    [45, 0.85355],
  ])('FS T-11: a free slope of %d sees (1 + cos S) / 2', (slopeDeg, expected) => {
    for (const aspectDeg of [0, 77, 180, 311]) {
      expect(Math.abs(openSkyShareOfSlope({ slopeDeg, aspectDeg }, [0]) - expected)).toBeLessThan(5e-6);
    }
  });

  it('mistake 11: a horizon below the level does not give a slope the whole sky', () => {
    expect(openSkyShareOfSlope({ slopeDeg: 30, aspectDeg: 90 }, [-40])).toBeCloseTo(0.933013, 5);
    expect(openSkyShareOfSlope({ slopeDeg: 90, aspectDeg: 90 }, [0])).toBeCloseTo(0.5, 5);
  });
});

describe('above or below the ground about it', () => {
  const rings = gridOf(5, 5, (column, row) => {
    const ring = Math.max(Math.abs(column - 2), Math.abs(row - 2));
    return [20, 12, 10][ring]!;
  });

  it('FS T-12: 8.0 in the window of 3, 9.3333 in that of 5', () => {
    expect(topographicPositionM(rings, { column: 2, row: 2 }, 1)).toBe(8);
    expect(Math.abs(topographicPositionM(rings, { column: 2, row: 2 }, 2)! - 9.3333)).toBeLessThan(5e-5);
  });

  it('FS T-13: 0.875 and -0.5 for the windows of T-1 and T-2', () => {
    const of = (window: HeightWindow) =>
      topographicPositionM(
        gridOf(3, 3, (column, row) => window[row * 3 + column]!),
        { column: 1, row: 1 },
        1,
      );
    expect(of(T1)).toBeCloseTo(0.875, 9);
    expect(of(T2)).toBeCloseTo(-0.5, 9);
  });

  it('FS T-14 (sanity only): shelter on T-6 within 100 m and 800 m', () => {
    expect(Math.abs(shelterWinstral2002Deg(T6, 100) - 6.843)).toBeLessThan(5e-4);
    expect(Math.abs(shelterWinstral2002Deg(T6, 800) - 8.531)).toBeLessThan(5e-4);
  });

  it('FS T-15 (sanity only): ground that falls away upwind is exposed', () => {
    const falling = [10, 20, 30].map((distanceM, i) => ({ distanceM, heightM: [-2, -5, -9][i]! }));
    expect(Math.abs(shelterWinstral2002Deg(falling, 100) + 11.31)).toBeLessThan(5e-4);
    expect(() => shelterWinstral2002Deg(falling, 5)).toThrow('at least one point');
  });

  it('on a grid: sheltered from the wall, exposed from the drop, and no valley made of what is not known', () => {
    const grid = gridOf(41, 41, (_, row) => (row <= 15 ? 30 : row >= 25 ? -30 : 0));
    const [north, , south] = shelterOfTerrain(
      grid,
      { column: 20, row: 20 },
      { farthestM: 100, directions: 4 },
    );
    expect(north).toBeGreaterThan(20);
    expect(south).toBeLessThan(1);
    const edge = shelterOfTerrain(grid, { column: 20, row: 40 }, { farthestM: 100, directions: 4 });
    expect(edge[2]).toBeNull();
  });
});

it('heights lie straight between the nodes, and beside a void there is none', () => {
  const grid = gridOf(3, 3, (column, row) => column + 10 * row);
  expect(heightBetween(grid, { column: 0.5, row: 1.25 })).toBeCloseTo(13, 6);
  expect(heightBetween(grid, { column: 2, row: 2 })).toBe(22);
  expect(heightBetween(grid, { column: 2.1, row: 2 })).toBeNull();
  expect(heightBetween(grid, { column: -0.1, row: 0 })).toBeNull();
  grid.voids[4] = 1;
  expect(heightBetween(grid, { column: 0.5, row: 0.5 })).toBeNull();
});
