import { beforeAll, describe, expect, it } from 'vitest';
import { testKernel } from '../fixtures/read-fixtures.ts';
import { fourierTransform, transformPair } from './fourier.ts';
import type { Kernel } from './kernel.ts';
import { seeded } from './rendered/render-blur.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

const random = seeded(11);
const plane = (side: number) => Float32Array.from({ length: side * side }, () => random() - 0.5);

describe('fourierTransform', () => {
  it('agrees with the sum it stands for', () => {
    const side = 16;
    const [re, im] = [plane(side), plane(side)];
    const fast = { side, re: re.slice(), im: im.slice() };
    fourierTransform(kernel, fast);
    for (const [u, v] of [
      [0, 0],
      [1, 0],
      [0, 1],
      [5, 3],
      [15, 9],
      [8, 8],
    ] as const) {
      let [sumRe, sumIm] = [0, 0];
      for (let y = 0; y < side; y++) {
        for (let x = 0; x < side; x++) {
          const angle = (-2 * Math.PI * (u * x + v * y)) / side;
          const at = y * side + x;
          sumRe += re[at]! * Math.cos(angle) - im[at]! * Math.sin(angle);
          sumIm += re[at]! * Math.sin(angle) + im[at]! * Math.cos(angle);
        }
      }
      expect(fast.re[v * side + u]).toBeCloseTo(sumRe, 4);
      expect(fast.im[v * side + u]).toBeCloseTo(sumIm, 4);
    }
  });

  it('comes back by exchanging real and imaginary, and keeps the energy (Parseval)', () => {
    const side = 64;
    const original = plane(side);
    const there = { side, re: original.slice(), im: new Float32Array(side * side) };
    fourierTransform(kernel, there);
    const energy = there.re.reduce((sum, value, i) => sum + value * value + there.im[i]! ** 2, 0) / side ** 2;
    expect(energy).toBeCloseTo(
      original.reduce((sum, value) => sum + value * value, 0),
      2,
    );
    const back = { side, re: there.im, im: there.re };
    fourierTransform(kernel, back);
    back.im.forEach((value, i) => {
      expect(Math.abs(value / side ** 2 - original[i]!)).toBeLessThan(1e-5);
    });
  });

  it('takes a pair of real planes apart', () => {
    const side = 32;
    const [a, b] = [plane(side), plane(side)];
    const pair = transformPair(kernel, side, a, b);
    const alone = { side, re: b.slice(), im: new Float32Array(side * side) };
    fourierTransform(kernel, alone);
    pair.second.re.forEach((value, i) => {
      expect(Math.abs(value - alone.re[i]!)).toBeLessThan(1e-3);
    });
  });

  it('refuses a side that is no power of two', () => {
    const bad = { side: 48, re: new Float32Array(48 * 48), im: new Float32Array(48 * 48) };
    expect(() => {
      fourierTransform(kernel, bad);
    }).toThrow(/plane.side/);
  });
});

describe('kernels of the blend', () => {
  it('measures local energy as plain script does', () => {
    const [w, h] = [21, 17];
    const data = Float32Array.from({ length: w * h }, () => random() - 0.5);
    const mark = kernel.mark();
    const [src, dst, row] = [w * h, w * h, w + 64].map((n) => kernel.allocate(n * 4 + 16));
    kernel.float32(src!, w * h).set(data);
    kernel.run.energy(src!, w, h, 0.01, dst!, row!);
    const found = kernel.float32(dst!, w * h);
    const taps = [1, 4, 6, 4, 1];
    for (let y = 0; y < h; y++) {
      for (let x = 0; x < w; x++) {
        let sum = 0;
        for (let j = -2; j <= 2; j++) {
          for (let i = -2; i <= 2; i++) {
            const yy = Math.min(h - 1, Math.max(0, y + j));
            const xx = Math.min(w - 1, Math.max(0, x + i));
            sum += (taps[j + 2]! * taps[i + 2]! * data[yy * w + xx]! ** 2) / 256;
          }
        }
        expect(found[y * w + x]).toBeCloseTo(Math.max(0, sum - 0.01), 5);
      }
    }
    kernel.release(mark);
  });
});
