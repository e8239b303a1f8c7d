import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { iesDaylight } from '../../outdoors/light/daylight.ts';
import { overcastUprightOverLevel } from '../../outdoors/light/overcast.ts';
import { configurationFactor, discCorners, type Vector } from './configuration-factor.ts';
import { diffuserEffect, GRASS_REFLECTANCE, reflectorFill, type OpenSky, type Reflector } from './fill.ts';

const up = { at: [0, 0, 0] as Vector, normal: [0, 0, 1] as Vector };

/** Mean of the factor over a level square of unit side, midpoint rule: area to area. */
function overSquare(corners: readonly Vector[], n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      sum += configurationFactor({ at: [(i + 0.5) / n, (j + 0.5) / n, 0], normal: [0, 0, 1] }, corners);
    }
  }
  return sum / n ** 2;
}

describe('configuration factors against published ones', () => {
  it.each([
    [0.5, 0.5],
    [1, 1],
    [2, 0.7],
    [10, 10],
  ])('Howell, Catalog, B-3: parallel rectangle, normal through its corner, %d x %d at distance 1', (A, B) => {
    const [a, b] = [Math.hypot(1, A), Math.hypot(1, B)];
    const published = ((A / a) * Math.atan(B / a) + (B / b) * Math.atan(A / b)) / (2 * Math.PI);
    const corners: Vector[] = [
      [0, 0, 1],
      [A, 0, 1],
      [A, B, 1],
      [0, B, 1],
    ];
    expect(configurationFactor(up, corners)).toBeCloseTo(published, 12);
  });

  it.each([
    [1, 1],
    [0.3, 2],
  ])('Howell, Catalog, B-4: rectangle square to the element, height %d, width %d, at distance 1', (A, B) => {
    const published = (Math.atan(B) - Math.atan(B / Math.hypot(1, A)) / Math.hypot(1, A)) / (2 * Math.PI);
    const corners: Vector[] = [
      [1, 0, 0],
      [1, B, 0],
      [1, B, A],
      [1, 0, A],
    ];
    expect(configurationFactor(up, corners)).toBeCloseTo(published, 12);
  });

  it('a disc straight above: R^2/(R^2 + h^2) (0.1 % for a polygon of 72 corners)', () => {
    for (const R of [0.2, 1, 3]) {
      const F = configurationFactor(up, discCorners([0, 0, 1], [0, 0, -1], 2 * R));
      expect(F / (R ** 2 / (R ** 2 + 1))).toBeCloseTo(1, 3);
    }
  });

  it('two coaxial discs, radii 0.1 and 0.2 m, 0.5 m apart: 0.1339 (Siegel and Howell, 4th edition, p. 845)', () => {
    const corners = discCorners([0, 0, 0.5], [0, 0, -1], 0.4);
    const n = 60;
    let sum = 0;
    for (let i = 0; i < n; i++) {
      // Rings of even area.
      const r = 0.1 * Math.sqrt((i + 0.5) / n);
      sum += configurationFactor({ at: [r, 0, 0], normal: [0, 0, 1] }, corners);
    }
    expect(sum / n).toBeCloseTo(0.1339, 3);
  });

  it('unit squares: opposite at distance 1 0.1998, sharing an edge 0.2000 (commonly printed, from memory)', () => {
    const lid: Vector[] = [
      [0, 0, 1],
      [1, 0, 1],
      [1, 1, 1],
      [0, 1, 1],
    ];
    const wall: Vector[] = [
      [0, 0, 0],
      [0, 1, 0],
      [0, 1, 1],
      [0, 0, 1],
    ];
    expect(overSquare(lid, 40)).toBeCloseTo(0.1998, 4);
    expect(overSquare(wall, 160)).toBeCloseTo(0.20004, 3);
  });

  it('law: a room fills all of the view; a shape cut in two has the sum of its parts; behind is nothing', () => {
    const far: Vector[] = [
      [-1e5, -1e5, 1],
      [1e5, -1e5, 1],
      [1e5, 1e5, 1],
      [-1e5, 1e5, 1],
    ];
    expect(configurationFactor(up, far)).toBeCloseTo(1, 4);
    expect(
      configurationFactor(
        up,
        far.map(([x, y]): Vector => [x, y, -1]),
      ),
    ).toBe(0);
    const number = fc.double({ min: 0.1, max: 3, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (A, B, cut) => {
        const board = (x0: number, x1: number): Vector[] => [
          [x0, -B, 1],
          [x1, -B, 0.2],
          [x1, B, 0.2],
          [x0, B, 1],
        ];
        const z = (x: number): number => 1 - (0.8 * x) / A;
        const whole = board(0, A);
        const left: Vector[] = [
          [0, -B, 1],
          [cut * A, -B, z(cut * A)],
          [cut * A, B, z(cut * A)],
          [0, B, 1],
        ];
        const right: Vector[] = [
          [cut * A, -B, z(cut * A)],
          [A, -B, 0.2],
          [A, B, 0.2],
          [cut * A, B, z(cut * A)],
        ];
        const parts = configurationFactor(up, left) + configurationFactor(up, right);
        expect(parts).toBeCloseTo(configurationFactor(up, whole), 10);
      }),
      { seed: 41, numRuns: 100 },
    );
  });
});

const overcast: OpenSky = {
  kind: 'overcast',
  diffuseLux: 10_000,
  directNormalLux: 0,
  sunAltitudeDeg: 45,
  groundReflectance: 0,
};
const { diffuseLux, directNormalLux } = iesDaylight(45, 172, 'clear');
const clear: OpenSky = {
  kind: 'clear',
  diffuseLux,
  directNormalLux,
  sunAltitudeDeg: 45,
  groundReflectance: GRASS_REFLECTANCE,
};
const board: Reflector = { diameterMm: 300, distanceMm: 200, belowDeg: 30, asideDeg: 0, surface: 'white' };

describe('reflector and diffuser', () => {
  it('FS L-8: an upright face under an overcast sky gets 0.3962 of the level, whichever way it looks', () => {
    const black = reflectorFill(overcast, { ...board, diameterMm: 0.001 });
    expect(black.ratioBeforeStops).toBeCloseTo(0, 6);
    // By hand: a white board that fills F sends 0.85 of what falls on it and hides black ground.
    const { fillStops, configurationFactor: F } = reflectorFill(overcast, board);
    const added = (2 ** fillStops - 1) * overcastUprightOverLevel;
    expect(added / F).toBeGreaterThan(0.85 * overcastUprightOverLevel);
    expect(added / F).toBeLessThan(0.85);
  });

  it('common practice, no source: under a clear sky a small white board close by is worth about a stop, silver more', () => {
    const white = reflectorFill(clear, board);
    const silver = reflectorFill(clear, { ...board, surface: 'silver' });
    expect(white.ratioBeforeStops).toBeGreaterThan(2);
    expect(white.fillStops).toBeGreaterThan(0.5);
    expect(white.fillStops).toBeLessThan(2.5);
    expect(silver.fillStops).toBeGreaterThan(white.fillStops + 0.5);
    expect(white.ratioAfterStops).toBeCloseTo(white.ratioBeforeStops - white.fillStops, 10);
  });

  it('laws: nearer or larger fills more of the view; what a board adds is never more than all the light', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 50, max: 800, noNaN: true }),
        fc.double({ min: 100, max: 1500, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.constantFrom(overcast, clear),
        (diameterMm, distanceMm, belowDeg, sky) => {
          const one = reflectorFill(sky, { ...board, diameterMm, distanceMm, belowDeg });
          const larger = reflectorFill(sky, { ...board, diameterMm: diameterMm * 1.3, distanceMm, belowDeg });
          expect(larger.configurationFactor).toBeGreaterThanOrEqual(one.configurationFactor);
          expect(Number.isFinite(one.fillStops)).toBe(true);
          expect(one.fillStops).toBeLessThan(4);
        },
      ),
      { seed: 42, numRuns: 200 },
    );
  });

  it('a diffuser lowers the contrast, costs light, and covers what its shade covers', () => {
    const screen = { diameterMm: 300, distanceMm: 200, transmittance: 0.6, subjectMm: 50 };
    const effect = diffuserEffect(clear, screen);
    expect(effect.covers).toBe(true);
    expect(effect.lostStops).toBeGreaterThan(0.7);
    expect(effect.ratioAfterStops).toBeLessThan(effect.ratioBeforeStops - 0.5);
    // The sun is 0.53 degrees wide: its shade narrows by 9.3 mm a metre.
    expect(diffuserEffect(clear, { ...screen, subjectMm: 299 }).covers).toBe(false);
    // A screen that fills all of the sky's view and lets all through changes nothing of an even sky.
    const nothing = diffuserEffect(
      { ...clear, directNormalLux: 0, sunAltitudeDeg: 90 },
      { ...screen, transmittance: 1, diameterMm: 1e7 },
    );
    expect(nothing.lostStops).toBeCloseTo(0, 2);
  });
});
