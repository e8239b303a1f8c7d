import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { testKernel } from '../../fixtures/read-fixtures.ts';
import type { Kernel } from '../kernel.ts';
import { seeded } from '../rendered/render-blur.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

/** Runs a kernel function on planes of these values and reads them back; lengths need not be multiples of four. */
function onPlanes(
  planes: readonly (readonly number[])[],
  work: (pointers: readonly number[]) => void,
): number[][] {
  const mark = kernel.mark();
  const pointers = planes.map(({ length }) => kernel.allocate(length * 4 + 16));
  planes.forEach((values, i) => {
    kernel.float32(pointers[i]!, values.length).set(values);
  });
  work(pointers);
  const out = planes.map((values, i) => [...kernel.float32(pointers[i]!, values.length)]);
  kernel.release(mark);
  return out;
}

/** Planes of one length with values that f32 holds. */
const planesOf = (count: number) =>
  fc.integer({ min: 1, max: 37 }).chain((length) =>
    fc.tuple(
      ...Array.from({ length: count }, () =>
        fc.array(fc.float({ min: -4, max: 4, noNaN: true, noDefaultInfinity: true }), {
          minLength: length,
          maxLength: length,
        }),
      ),
    ),
  );

const runs = { seed: 20, numRuns: 60 };

function expectClose(found: readonly number[] | undefined, expected: readonly number[]): void {
  expected.forEach((value, i) => {
    expect(Math.abs(found![i]! - value)).toBeLessThanOrEqual(1e-5 * Math.max(1, Math.abs(value)));
  });
}

describe('sums over planes, against plain loops', () => {
  it('lumaOf is (red + 2 green + blue) / 4', () => {
    fc.assert(
      fc.property(planesOf(3), ([red, green, blue]) => {
        const found = onPlanes([red!, green!, blue!, red!.map(() => 0)], ([r, g, b, out]) => {
          kernel.run.lumaOf(r!, g!, b!, out!, red!.length);
        });
        expectClose(
          found[3],
          red!.map((value, i) => (value + 2 * green![i]! + blue![i]!) / 4),
        );
      }),
      runs,
    );
  });

  it('addWeighted adds weight x value, addPlane the value', () => {
    fc.assert(
      fc.property(planesOf(3), ([sum, weight, value]) => {
        const n = sum!.length;
        const weighted = onPlanes([sum!, weight!, value!], ([s, w, v]) => {
          kernel.run.addWeighted(s!, w!, v!, n);
        });
        expectClose(
          weighted[0],
          sum!.map((one, i) => one + weight![i]! * value![i]!),
        );
        const plain = onPlanes([sum!, value!], ([s, v]) => {
          kernel.run.addPlane(s!, v!, n);
        });
        expectClose(
          plain[0],
          sum!.map((one, i) => one + value![i]!),
        );
      }),
      runs,
    );
  });

  it('divide leaves 0 where there is no weight', () => {
    const found = onPlanes(
      [
        [6, -3, 5, 7, 1],
        [2, 4, 0, 1, -1],
      ],
      ([sum, weight]) => {
        kernel.run.divide(sum!, weight!, 5);
      },
    );
    expect(found[0]).toEqual([3, -0.75, 0, 7, 0]);
  });
});

describe('keepBest', () => {
  it('remembers the heaviest frame, the first of equals, and sums by the root of the weight', () => {
    const weights = [
      [4, 0, 1, 9, 16],
      [1, 0, 1, 16, 25],
      [9, 4, 0, 4, 1],
    ];
    const mark = kernel.mark();
    const [weight, best, depth, depthWeight] = [0, 1, 2, 3].map(() => kernel.allocate(32));
    const source = kernel.allocate(16);
    weights.forEach((values, frame) => {
      kernel.float32(weight!, 5).set(values);
      kernel.run.keepBest(weight!, 5, frame, best!, source, depth!, depthWeight!);
    });
    expect([...kernel.bytes(source, 5)]).toEqual([2, 2, 0, 1, 1]);
    expect([...kernel.float32(best!, 5)]).toEqual([9, 4, 1, 16, 25]);
    const sum = (i: number, of: (frame: number) => number) =>
      weights.reduce((all, values, frame) => all + Math.sqrt(values[i]!) * of(frame), 0);
    expectClose(
      [...kernel.float32(depth!, 5)],
      [0, 1, 2, 3, 4].map((i) => sum(i, (frame) => frame)),
    );
    expectClose(
      [...kernel.float32(depthWeight!, 5)],
      [0, 1, 2, 3, 4].map((i) => sum(i, () => 1)),
    );
    kernel.release(mark);
  });
});

describe('weigh', () => {
  it.each([0, 4])('is (energy + least)^4 x coverage, with a ramp of %i px', (ramp) => {
    const [w, h, step, least] = [9, 7, 2, 0.25];
    const [a, b, cx, cy] = [1.01, 0.05, -3, 2];
    const [srcW, srcH] = [20, 14];
    const random = seeded(4);
    const energies = Array.from({ length: w * h }, () => random());
    const [found] = onPlanes([energies], ([plane]) => {
      kernel.run.weigh(plane!, w, h, step, least, a, b, cx, cy, srcW, srcH, ramp);
    });
    const expected = energies.map((energy, i) => {
      const x = step * (i % w);
      const y = step * Math.floor(i / w);
      const px = a * x - b * y + cx;
      const py = b * x + a * y + cy;
      const inside = Math.min(px, py, srcW - 1 - px, srcH - 1 - py);
      const coverage = ramp > 0 ? Math.max(0, Math.min(1, inside / ramp - 1)) : 1;
      return (energy + least) ** 4 * coverage;
    });
    expectClose(found, expected);
  });
});

describe('rows of a frame', () => {
  it.each([8, 16])('come apart from interleaved %i-bit RGB, with their ends repeated', (bits) => {
    const n = 13;
    const most = 2 ** bits - 1;
    const random = seeded(bits);
    const codes = Array.from({ length: n * 3 }, () => Math.floor(random() * (most + 1)));
    const mark = kernel.mark();
    const src = kernel.allocate(n * 6 + 16);
    if (bits === 8) kernel.bytes(src, n * 3).set(codes);
    else kernel.uint16(src, n * 3).set(codes);
    const rows = [0, 1, 2].map(() => kernel.allocate((n + 16) * 4) + 32) as [number, number, number];
    const gains = [1, 0.5, 2] as const;
    (bits === 8 ? kernel.run.planesOf8 : kernel.run.planesOf16)(src, n, ...rows, ...gains);
    rows.forEach((row, channel) => {
      const values = [...kernel.float32(row - 32, n + 16)];
      const expected = Array.from({ length: n + 16 }, (_, i) => {
        const x = Math.min(n - 1, Math.max(0, i - 8));
        return (codes[x * 3 + channel]! / most) * gains[channel]!;
      });
      expectClose(values, expected);
    });
    kernel.release(mark);
  });

  it('boxAcross sums runs of a row', () => {
    const [row, out] = onPlanes(
      [
        [1, 2, 3, 4, 5, 6, 7],
        [0, 0],
      ],
      ([from, to]) => {
        kernel.run.boxAcross(from!, 3, 0.5, to!, 2);
      },
    );
    expect(row).toHaveLength(7);
    expect(out).toEqual([3, 7.5]);
  });
});
