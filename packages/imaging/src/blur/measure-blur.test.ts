import { beforeAll, describe, expect, it } from 'vitest';
import { photograph, testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { renderBlur, renderDrift, renderNoise } from '../rendered/render-blur.ts';
import { transferOf, worstSigmaPx, type RenderedBlur } from '../rendered/transfer.ts';
import { measureBlurAlone } from './measure-alone.ts';
import { measureBlurInSeries } from './measure-in-series.ts';
import { whoMoved, type MeasuredBlur } from './measured-blur.ts';

const NAMES = ['fern', 'scabious', 'hibiscus', 'white-umbel', 'pale-daisy'];
const BLURS: { readonly cause: string; readonly blur: RenderedBlur }[] = [
  ...[1, 1.5, 2, 3, 4.5, 6].map((gaussianSigmaPx) => ({ cause: 'defocus', blur: { gaussianSigmaPx } })),
  ...[4, 8, 14, 22].map((discDiameterPx) => ({ cause: 'defocus', blur: { discDiameterPx } })),
  ...[5, 8, 12, 18].map((lengthPx) => ({
    cause: 'motion',
    blur: { streak: { lengthPx, directionDeg: (lengthPx * 37) % 180 } },
  })),
  { cause: 'both', blur: { discDiameterPx: 6, streak: { lengthPx: 9, directionDeg: 60 } } },
];

let kernel: Kernel;
let scenes: FloatImage[];
beforeAll(async () => {
  kernel = await testKernel();
  scenes = await Promise.all(NAMES.map((name) => photograph(name)));
});

/** One frame of a series held by hand: drifted, blurred, noisy, brighter or darker by up to a tenth, 8 bit. */
function frame(scene: FloatImage, blur: RenderedBlur, i: number): FloatImage {
  const motion = {
    shiftPx: { x: 9 * Math.sin(i), y: 7 * Math.cos(2 * i) },
    rotationDeg: 0.4 * Math.sin(3 * i),
    scale: 1 + 0.02 * Math.sin(5 * i),
  };
  const noise = renderNoise(renderBlur(kernel, renderDrift(scene, motion), blur), 1.5, i);
  const gain = 1 + 0.1 * Math.sin(7 * i);
  return { ...noise, data: noise.data.map((v) => Math.min(255, Math.max(0, Math.round(v * gain)))) };
}

const median = (values: number[]) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
const share = (values: boolean[]) => values.filter(Boolean).length / values.length;
const turn = (a: number, b: number) => Math.abs(((a - b + 270) % 180) - 90);

describe('transfer functions of the renderer', () => {
  it('has the first zeros of a 12 px streak and disc where OI S-12 says', () => {
    const streak = { streak: { lengthPx: 12, directionDeg: 0 } };
    expect(transferOf(streak, 0.083333, 0)).toBeCloseTo(0, 4);
    expect(transferOf({ discDiameterPx: 12 }, 0.101639, 0)).toBeCloseTo(0, 4);
  });
  it('has the MTF50 of a Gaussian of sigma 1 at 0.187391 (OI S-3)', () => {
    expect(transferOf({ gaussianSigmaPx: 1 }, 0, 0.187391)).toBeCloseTo(0.5, 5);
  });
});

describe('blur within a series', () => {
  it('finds size, cause and direction of rendered blur', { timeout: 240_000 }, () => {
    const errors: number[] = [];
    const causes: boolean[] = [];
    const directions: number[] = [];
    const lengths: number[] = [];
    const inside: boolean[] = [];
    for (const scene of scenes) {
      const crops = [{ ...scene }, ...BLURS.map(({ blur }, i) => frame(scene, blur, i + 1))];
      const { reference, blurs } = measureBlurInSeries(kernel, crops, { limitPx: 0.8, reference: 0 });
      const base = blurs[reference]!.sigmaPx!;
      BLURS.forEach(({ cause, blur }, i) => {
        const found = blurs[i + 1]!;
        const truth = Math.hypot(base, worstSigmaPx(blur));
        errors.push(Math.abs((found.sigmaPx ?? 0) / truth - 1));
        causes.push(found.cause === cause);
        inside.push(found.sigmaLowPx! <= truth && truth <= found.sigmaHighPx!);
        if (blur.streak !== undefined && found.motion !== null) {
          directions.push(turn(found.motion.directionDeg, blur.streak.directionDeg));
          lengths.push(Math.abs(found.motion.lengthPx / blur.streak.lengthPx - 1));
        }
      });
      const gaussians = blurs.slice(1, 7).map(({ sigmaPx }) => sigmaPx!);
      expect([...gaussians].sort((a, b) => a - b)).toEqual(gaussians);
    }
    expect(median(errors)).toBeLessThan(0.05);
    expect(share(causes)).toBeGreaterThanOrEqual(0.95);
    expect(Math.max(...directions)).toBeLessThan(4);
    expect(Math.max(...lengths)).toBeLessThan(0.1);
    expect(share(inside)).toBeGreaterThan(0.9);
  });

  it('measures a frame of another scene, or one in which half has changed, alone', () => {
    const [scene, other] = [scenes[0]!, scenes[4]!];
    const half = { ...scene, data: scene.data.slice() };
    const columns = Math.min(scene.width, other.width);
    for (let y = 0; y < Math.min(scene.height, other.height); y++) {
      for (let x = Math.floor(columns / 2) - 100; x < columns / 2 + 60; x++) {
        half.data[y * scene.width + x] = other.data[y * other.width + x]!;
      }
    }
    const limitPx = 0.8;
    const { blurs } = measureBlurInSeries(kernel, [scene, other, half], { limitPx, reference: 0 });
    expect(blurs[1]).toEqual(measureBlurAlone(kernel, other, { limitPx }));
    expect(blurs[2]).toEqual(measureBlurAlone(kernel, half, { limitPx }));
  });
});

describe('blur of a frame alone', () => {
  it('finds size, cause and direction, less exactly', { timeout: 120_000 }, () => {
    const errors: number[] = [];
    const causes: boolean[] = [];
    const directions: number[] = [];
    for (const scene of scenes) {
      BLURS.forEach(({ cause, blur }, i) => {
        const found = measureBlurAlone(kernel, frame(scene, blur, i + 1), { limitPx: 0.8 });
        // The photographs' own spread after reduction is taken as half a pixel (common practice, no source).
        const truth = Math.hypot(0.5, worstSigmaPx(blur));
        errors.push(Math.abs((found.sigmaPx ?? 0) / truth - 1));
        causes.push(found.cause === cause);
        if (blur.streak !== undefined && found.motion !== null) {
          directions.push(turn(found.motion.directionDeg, blur.streak.directionDeg));
        }
      });
    }
    expect(median(errors)).toBeLessThan(0.06);
    expect(share(causes)).toBeGreaterThan(0.9);
    expect(Math.max(...directions)).toBeLessThan(10);
    expect(median(directions)).toBeLessThan(2);
  });

  it('is unclear where there is no edge', () => {
    const data = new Float32Array(256 * 256).fill(80);
    expect(measureBlurAlone(kernel, { width: 256, height: 256, data }, { limitPx: 1 }).cause).toBe('unclear');
  });
});

describe('whoMoved', () => {
  const streak = (directionDeg: number): MeasuredBlur['motion'] => ({ lengthPx: 10, directionDeg });
  it('blames the camera when everything is smeared alike, the subject when the rest is sharp', () => {
    const alike = [1, 2, 3].map((i) => ({ motion: streak(30 + i), cause: 'motion' as const }));
    const sharp = [1, 2, 3].map(() => ({ motion: null, cause: 'sharp' as const }));
    expect(whoMoved(streak(30), alike)).toBe('camera');
    expect(whoMoved(streak(30), sharp)).toBe('subject');
    expect(whoMoved(streak(30), [])).toBeNull();
    expect(whoMoved(null, alike)).toBeNull();
  });
});
