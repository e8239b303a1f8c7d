import { beforeAll, describe, expect, it } from 'vitest';
import { photograph, testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage, Rgb16Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { stillness, type Similarity } from '../register/similarity.ts';
import { seeded } from '../rendered/render-blur.ts';
import { renderFocusSeries } from '../rendered/render-focus-series.ts';
import { createBlendSession, type Blend } from './blend-session.ts';

let kernel: Kernel;
let planes: [FloatImage, FloatImage, FloatImage];
let depth: FloatImage;
beforeAll(async () => {
  kernel = await testKernel();
  const channels = await Promise.all(([0, 1, 2] as const).map((channel) => photograph('aloe', channel)));
  const full = channels.map((plane) => ({ ...plane, data: plane.data.map((value) => value * 257) }));
  planes = full as [FloatImage, FloatImage, FloatImage];
  const disparity = await photograph('aloe-disparity');
  const most = disparity.data.reduce((a, b) => Math.max(a, b), 0);
  let last = most / 2;
  depth = { ...disparity, data: disparity.data.map((d) => 1 - (last = d === 0 ? last : d) / most) };
});

function psnr(picture: Rgb16Image): number {
  const { width, height, data } = picture;
  const margin = 20;
  let squares = 0;
  let count = 0;
  for (let y = margin; y < height - margin; y++) {
    for (let i = (y * width + margin) * 3; i < (y * width + width - margin) * 3; i++) {
      const error = (data[i]! - planes[i % 3]!.data[Math.floor(i / 3)]!) / 65535;
      squares += error * error;
      count++;
    }
  }
  return -10 * Math.log10(squares / count);
}

function wholePicture(blend: Blend): Rgb16Image {
  const { width, height } = blend;
  return { width, height, data: blend.pictureRows(0, height) };
}

const drift = (i: number): Similarity => ({
  shiftPx: { x: 5 * Math.sin(2 * i), y: 6 * Math.cos(3 * i) },
  rotationDeg: 0.5 * Math.sin(i),
  scale: 1 + 0.004 * (i - 2),
});

describe('the pyramid', () => {
  it('spreads an impulse as OI R-9', () => {
    const mark = kernel.mark();
    const [src, dst, row] = [kernel.allocate(256), kernel.allocate(64), kernel.allocate(256)];
    kernel.float32(src, 64)[4 * 8 + 4] = 1;
    kernel.run.reduce(src, 8, 8, dst, row);
    const even = [...kernel.float32(dst, 16)].map((value) => value * 256);
    expect([even[10], even[9], even[5]]).toEqual([36, 6, 1]);
    kernel.float32(src, 64).fill(0)[3 * 8 + 3] = 1;
    kernel.run.reduce(src, 8, 8, dst, row);
    const odd = [...kernel.float32(dst, 16)].map((value) => value * 256);
    expect(odd.filter((value) => value > 0)).toEqual([16, 16, 16, 16]);
    kernel.release(mark);
  });

  it.each([
    [64, 48],
    [37, 51],
  ])('comes apart and together again without loss, %i x %i (OI R-10)', (w, h) => {
    const mark = kernel.mark();
    const random = seeded(9);
    const [src, half, detail, row] = [w * h, w * h, w * h, w + 64].map((n) => kernel.allocate(n * 4 + 16));
    const original = Float32Array.from({ length: w * h }, () => random());
    kernel.float32(src!, w * h).set(original);
    kernel.run.reduce(src!, w, h, half!, row!);
    kernel.run.addExpanded(src!, w, h, half!, -1, detail!, row!);
    kernel.run.addExpanded(detail!, w, h, half!, 1, detail!, row!);
    kernel.float32(detail!, w * h).forEach((value, i) => {
      expect(Math.abs(value - original[i]!)).toBeLessThan(1e-6);
    });
    kernel.release(mark);
  });
});

describe('a focus series with known truth', () => {
  it('comes within 0.2 dB of the same fusion given the true motion', { timeout: 120_000 }, async () => {
    const specification = [0, 1, 2, 3, 4].map((i) => ({
      focus: 0.25 + (i + 0.5) * 0.15,
      motion: i === 2 ? stillness : drift(i),
    }));
    const optics = { discPx: 22, slices: 10, noiseSigma: 250, seed: 5 };
    const frames = renderFocusSeries(kernel, { planes, depth }, specification, optics);
    const blend = async (given: boolean) => {
      const session = createBlendSession(await testKernel());
      for (const i of [2, 1, 3, 0, 4])
        session.addFrame(frames[i]!, i, given ? specification[i]!.motion : undefined);
      const result = session.finish();
      return { frames: result.frames, picture: wholePicture(result) };
    };
    const found = await blend(false);
    expect(found.frames.every(({ used }) => used)).toBe(true);
    const quality = psnr(found.picture);
    expect(quality).toBeGreaterThan(psnr((await blend(true)).picture) - 0.2);
    expect(quality).toBeGreaterThan(Math.max(...frames.map(psnr)) + 5);
  });

  it('gives a single frame back, and leaves out a frame of something else', async () => {
    const { width, height } = depth;
    const data = new Uint16Array(width * height * 3);
    planes.forEach((plane, channel) => {
      plane.data.forEach((value, i) => (data[i * 3 + channel] = value));
    });
    const session = createBlendSession(await testKernel());
    session.addFrame({ width, height, data }, 4);
    const random = seeded(2);
    const other = { width, height, data: data.map(() => random() * 65535) };
    const refused = session.addFrame(other, 5);
    expect(refused.used).toBe(false);
    expect(refused.why).toContain('same scene');
    const result = session.finish();
    const picture = wholePicture(result);
    let worst = 0;
    picture.data.forEach((value, i) => (worst = Math.max(worst, Math.abs(value - data[i]!))));
    expect(worst).toBeLessThanOrEqual(1);
    expect(new Set(result.sourceRows(0, height))).toEqual(new Set([4]));
    expect(new Set(result.depthRows(0, height))).toEqual(new Set([4]));
    expect(() => session.finish()).toThrow(/open session/);
    result.dispose();
    expect(() => result.pictureRows(0, 1)).toThrow(/disposed/);
  });
});
