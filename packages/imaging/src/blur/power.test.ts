import { beforeAll, describe, expect, it } from 'vitest';
import { testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { renderNoise } from '../rendered/render-blur.ts';
import { crossSpectrum, layImage, powerSpectrum } from './power.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

const flat = (width: number, height: number): FloatImage => ({
  ...{ width, height },
  data: new Float32Array(width * height).fill(100),
});

function cross(first: FloatImage, second: FloatImage) {
  const mark = kernel.mark();
  const pair = { first: layImage(kernel, first), second: layImage(kernel, second) };
  const found = crossSpectrum(kernel, pair, 200, 12, 0.4);
  kernel.release(mark);
  return found.cells;
}

describe('spectra of a window', () => {
  it.each([
    [100, 100, 96],
    [301, 257, 200],
    [520, 600, 384],
  ])('give white noise of variance s² the power s² (%i x %i px, window %i)', (width, height, windowPx) => {
    const { power, count } = powerSpectrum(
      kernel,
      renderNoise(flat(width, height), 3, 1),
      windowPx,
      [0.05, 0.2, 0.45],
    );
    const all = count.reduce((sum, value) => sum + value, 0);
    const mean = power.reduce((sum, value, cell) => sum + value * count[cell]!, 0) / all;
    // About windowPx² / 3 independent samples: five times the standard error of their mean.
    expect(Math.abs(mean / 9 - 1)).toBeLessThan((5 * Math.sqrt(3)) / windowPx);
  });

  it('are one and the same for a picture with itself', () => {
    const noise = renderNoise(flat(260, 240), 5, 2);
    for (const { first, second, cross: shared } of cross(noise, noise)) {
      expect(second / first).toBeCloseTo(1, 4);
      expect(shared / first).toBeCloseTo(1, 4);
    }
  });

  it('lose nothing to a shift of a pixel and a half', () => {
    const [width, height] = [300, 300];
    const wave = (shift: number): FloatImage => ({
      ...{ width, height },
      data: Float32Array.from({ length: width * height }, (_, i) => {
        const x = (i % width) - shift;
        const y = Math.floor(i / width);
        return (
          100 +
          [3, -5, 9, -13, 17].reduce((sum, k) => sum + Math.sin(0.05 * k * x + 0.04 * Math.abs(k) * y), 0)
        );
      }),
    });
    const cells = cross(wave(0), wave(1.5));
    const total = (of: (cell: (typeof cells)[number]) => number) =>
      cells.reduce((sum, cell) => sum + cell.count * of(cell), 0);
    expect(total((cell) => cell.cross) / total((cell) => cell.first)).toBeGreaterThan(0.98);
  });

  it('leave the kernel as they found it', () => {
    const mark = kernel.mark();
    powerSpectrum(kernel, flat(128, 128), 128, [0.05, 0.4]);
    expect(kernel.mark()).toBe(mark);
  });
});
