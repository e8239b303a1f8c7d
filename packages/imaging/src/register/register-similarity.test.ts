import { beforeAll, describe, expect, it } from 'vitest';
import { photograph, testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { renderBlur, renderDrift, renderNoise } from '../rendered/render-blur.ts';
import { coarseShift, parabolaPeak } from './coarse-shift.ts';
import { registerSimilarity } from './register-similarity.ts';
import { carryPoint, invertSimilarity, type Similarity } from './similarity.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

/** Fixture B of OI 6.1: twelve Gaussian spots, seen after a similarity about the centre. */
function spots(dx: number, dy: number, scale = 1, rotationDeg = 0): FloatImage {
  const data = new Float32Array(128 * 128);
  const c = Math.cos((rotationDeg * Math.PI) / 180) / scale;
  const s = Math.sin((rotationDeg * Math.PI) / 180) / scale;
  for (let y = 0; y < 128; y++) {
    for (let x = 0; x < 128; x++) {
      const qx = x - 63.5 - dx;
      const qy = y - 63.5 - dy;
      const px = c * qx + s * qy + 63.5;
      const py = -s * qx + c * qy + 63.5;
      for (let i = 0; i < 12; i++) {
        const cx = 20 + ((37 * i) % 88);
        const cy = 20 + ((53 * i + 11) % 88);
        const si = 2.5 + (i % 4);
        const a = 40 + 15 * (i % 5);
        data[y * 128 + x]! += a * Math.exp(-((px - cx) ** 2 + (py - cy) ** 2) / (2 * si * si));
      }
    }
  }
  return { width: 128, height: 128, data };
}

/** Root mean square of the error at the four corners [px]. */
function cornerError(found: Similarity, truth: Similarity, size: FloatImage): number {
  const corners = [
    [0, 0],
    [size.width - 1, 0],
    [0, size.height - 1],
    [size.width - 1, size.height - 1],
  ] as const;
  const squares = corners.map(([x, y]) => {
    const a = carryPoint(found, size, size, { x, y });
    const b = carryPoint(truth, size, size, { x, y });
    return (a.x - b.x) ** 2 + (a.y - b.y) ** 2;
  });
  return Math.sqrt(squares.reduce((sum, value) => sum + value, 0) / 4);
}

describe('fixture B of the reference', () => {
  it('is the fixture: sum 84,752.2337 and pixel (40, 40) 10.828492', () => {
    const b = spots(0, 0);
    expect(b.data.reduce((sum, value) => sum + value, 0)).toBeCloseTo(84_752.2337, 0);
    expect(b.data[40 * 128 + 40]).toBeCloseTo(10.828492, 4);
  });

  // OI with the tolerance that R-4 gives to intensity-based methods, 0.02 px.
  it.each([
    [3.25, -1.5],
    [0.4, 0.7],
    [-5, 2],
  ])('recovers a shift of (%f, %f) (OI R-2 to R-4)', (dx, dy) => {
    const found = registerSimilarity(kernel, spots(0, 0), spots(dx, dy));
    expect(Math.abs(found.shiftPx.x + dx)).toBeLessThan(0.02);
    expect(Math.abs(found.shiftPx.y + dy)).toBeLessThan(0.02);
    expect(found.correlation).toBeGreaterThan(0.9999);
  });

  it('starts within a pixel of it by correlation alone', () => {
    const found = coarseShift(kernel, spots(0, 0), spots(3.25, -1.5), 128);
    expect(Math.hypot(found.x + 3.25, found.y - 1.5)).toBeLessThan(0.5);
  });

  it('recovers scale 1.02, 0.5° and (1.3, -0.8) (OI R-5)', () => {
    const found = invertSimilarity(registerSimilarity(kernel, spots(0, 0), spots(1.3, -0.8, 1.02, 0.5)));
    expect(Math.abs(found.scale * Math.cos((found.rotationDeg * Math.PI) / 180) - 1.01996)).toBeLessThan(
      2e-4,
    );
    expect(Math.abs(found.scale * Math.sin((found.rotationDeg * Math.PI) / 180) - 0.0089)).toBeLessThan(2e-4);
    expect(Math.abs(found.shiftPx.x - 1.3)).toBeLessThan(0.03);
    expect(Math.abs(found.shiftPx.y + 0.8)).toBeLessThan(0.03);
  });

  it('reads a parabola as OI R-6', () => {
    expect(parabolaPeak(0.6, 1, 0.8)).toBeCloseTo(0.166667, 6);
  });
});

describe('real textures', () => {
  const motions: Similarity[] = [
    { shiftPx: { x: 18, y: -11 }, rotationDeg: 0.5, scale: 1.01 },
    { shiftPx: { x: -14, y: 20 }, rotationDeg: -2, scale: 1.04 },
    { shiftPx: { x: 20, y: 9 }, rotationDeg: 2, scale: 0.96 },
  ];
  it.each(['fern', 'scabious', 'hibiscus', 'white-umbel', 'pale-daisy'])(
    'recovers known motion of %s to 0.2 px at the corners, with defocus, noise and exposure differing',
    async (name) => {
      const scene = await photograph(name);
      for (const motion of motions) {
        const blurred = renderBlur(kernel, renderDrift(scene, motion), { discDiameterPx: 6 });
        const noise = renderNoise(blurred, 1.5, 7);
        const moving = { ...noise, data: noise.data.map((value) => 0.85 * value) };
        const found = registerSimilarity(kernel, scene, moving);
        expect(cornerError(found, motion, scene)).toBeLessThan(0.2);
      }
    },
  );

  it('is not misled by highlights that burnt out in one of the two', async () => {
    const scene = await photograph('scabious');
    const motion: Similarity = { shiftPx: { x: 12, y: 7 }, rotationDeg: 1, scale: 1.02 };
    const blurred = renderBlur(kernel, renderDrift(scene, motion), { discDiameterPx: 6 });
    const moving = { ...blurred, data: blurred.data.map((value) => Math.min(255, 1.6 * value)) };
    expect(cornerError(registerSimilarity(kernel, scene, moving), motion, scene)).toBeLessThan(0.2);
  });

  it('does not correlate two different scenes', async () => {
    const found = registerSimilarity(kernel, await photograph('fern'), await photograph('pale-daisy'));
    expect(found.correlation).toBeLessThan(0.6);
  });
});
