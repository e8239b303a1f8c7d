import { beforeAll, describe, expect, it } from 'vitest';
import { testKernel } from '../../fixtures/read-fixtures.ts';
import type { Kernel } from '../kernel.ts';
import { seeded } from '../rendered/render-blur.ts';
import { clipping, evennessStops } from './exposure-at-point.ts';
import { guessPoint } from './guess-point.ts';
import { surveyFrame } from './survey-frame.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

function noisy(width: number, height: number, seed: number) {
  const random = seeded(seed);
  return {
    width,
    height,
    data: Uint8Array.from({ length: width * height }, () => Math.floor(random() * 256)),
  };
}

describe('surveyFrame', () => {
  it.each([
    [64, 48],
    [101, 67],
    [533, 40],
  ])('agrees with plain script on %i x %i px', (width, height) => {
    const luma = noisy(width, height, width);
    const survey = surveyFrame(kernel, luma, { smallLongSidePx: 50 });
    const at = (x: number, y: number) =>
      luma.data[Math.min(height - 1, Math.max(0, y)) * width + Math.min(width - 1, Math.max(0, x))]!;
    for (let row = 0; row < survey.rows; row++) {
      for (let column = 0; column < survey.columns; column++) {
        let [xx, xy, yy, sum, top, count] = [0, 0, 0, 0, 0, 0];
        for (let y = row * 32; y < Math.min(height, row * 32 + 32); y++) {
          for (let x = column * 32; x < Math.min(width, column * 32 + 32); x++) {
            const gx = (at(x + 1, y) - at(x - 1, y)) / 2;
            const gy = (at(x, y + 1) - at(x, y - 1)) / 2;
            xx += gx * gx;
            xy += gx * gy;
            yy += gy * gy;
            sum += at(x, y);
            if (at(x, y) === 255) top++;
            count++;
          }
        }
        const i = row * survey.columns + column;
        expect(survey.gradientXX[i]).toBeCloseTo(xx / count, 1);
        expect(survey.gradientXY[i]).toBeCloseTo(xy / count, 1);
        expect(survey.gradientYY[i]).toBeCloseTo(yy / count, 1);
        expect(survey.meanLuma[i]).toBeCloseTo(sum / count, 3);
        expect(survey.topShare[i]).toBeCloseTo(top / count, 5);
      }
    }
    const f = survey.smallFactor;
    let mean = 0;
    for (let y = f; y < 2 * f; y++) for (let x = 0; x < f; x++) mean += at(x, y) / f ** 2;
    if (survey.small.height > 1) expect(survey.small.data[survey.small.width]).toBeCloseTo(mean, 3);
  });

  it('gives 20 s² for the Laplacian of white noise (OI 5.2)', () => {
    const random = seeded(3);
    const data = Uint8Array.from({ length: 512 * 512 }, () => {
      const radius = 8 * Math.sqrt(-2 * Math.log(1 - random()));
      return Math.round(128 + radius * Math.cos(2 * Math.PI * random()));
    });
    // The quietest twentieth of the tiles lies a little below their mean.
    expect(surveyFrame(kernel, { width: 512, height: 512, data }).noiseSigma).toBeCloseTo(7.6, 0);
  });

  it('gives the squared Laplacian of a unit impulse, 20, scaled by its height (OI S-9)', () => {
    const data = new Uint8Array(64 * 64).fill(10);
    data[16 * 64 + 16] = 20;
    const survey = surveyFrame(kernel, { width: 64, height: 64, data });
    expect(survey.detail[0]).toBeCloseTo((20 * 10 ** 2) / 1024, 4);
    expect(survey.detail[3]).toBe(0);
  });

  it('refuses a frame whose array is too short', () => {
    const luma = { width: 64, height: 64, data: new Uint8Array(100) };
    expect(() => surveyFrame(kernel, luma)).toThrow(/4096 samples/);
  });
});

describe('guessPoint', () => {
  it('finds the only sharp region', () => {
    const luma = noisy(640, 480, 1);
    for (let y = 0; y < 480; y++) {
      for (let x = 0; x < 640; x++) {
        if (Math.hypot(x - 400, y - 200) > 60) luma.data[y * 640 + x] = 100;
      }
    }
    const point = guessPoint(surveyFrame(kernel, luma));
    expect(Math.hypot(point.x * 640 - 400, point.y * 480 - 200)).toBeLessThan(70);
  });

  it('takes the flower, not the leaf as sharp beside it, when it sees their colours', () => {
    const luma = noisy(960, 640, 5);
    const data = new Uint8Array(160 * 107 * 3);
    for (let y = 0; y < 640; y++) {
      for (let x = 0; x < 960; x++) {
        const leaf = Math.hypot(x - 430, y - 320) < 110;
        const flower = Math.hypot(x - 730, y - 320) < 90;
        if (!leaf && !flower) luma.data[y * 960 + x] = 90;
        const at = (Math.min(106, Math.floor(y / 6)) * 160 + Math.floor(x / 6)) * 3;
        data.set(flower ? [220, 190, 20] : [50, 110, 40], at);
      }
    }
    const survey = surveyFrame(kernel, luma);
    expect(guessPoint(survey).x * 960).toBeLessThan(540);
    const point = guessPoint(survey, { width: 160, height: 107, data });
    expect(Math.hypot(point.x * 960 - 730, point.y * 640 - 320)).toBeLessThan(100);
  });

  it('is the centre where there is nothing', () => {
    const luma = { width: 64, height: 64, data: new Uint8Array(64 * 64).fill(90) };
    expect(guessPoint(surveyFrame(kernel, luma))).toEqual({ x: 0.5, y: 0.5 });
  });
});

describe('exposure at the point', () => {
  const pixels = Array.from({ length: 100 }, (_, i) => [i < 25 ? 255 : 10, i < 50 ? 255 : 10, 10]).flat();
  const crop = { width: 10, height: 10, data: Uint8Array.from(pixels) };

  it('counts the burnt pixels of each channel', () => {
    expect(clipping(crop)).toEqual({ red: 0.25, green: 0.5, blue: 0 });
  });

  it('is one stop for a subject half of which gets twice the light', () => {
    // sRGB codes 137 and 188 are linear 0.2502 and 0.5029 (IEC 61966-2-1, closed form).
    const data = Uint8Array.from({ length: 300 }, (_, i) => (i < 150 ? 137 : 188));
    expect(evennessStops({ width: 10, height: 10, data })).toBeCloseTo(1, 1);
  });
});
