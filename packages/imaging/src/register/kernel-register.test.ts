import { beforeAll, describe, expect, it } from 'vitest';
import { testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { layGrid, stillGrid } from './displacement.ts';
import { layPicture } from './laid-picture.ts';
import { sampleCubic } from './resample.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

/** A smooth picture, whose slopes plain differences give well. */
function waves(width: number, height: number, phase: number): FloatImage {
  const data = Float32Array.from({ length: width * height }, (_, i) => {
    const x = i % width;
    const y = Math.floor(i / width);
    return 100 + 40 * Math.sin(x / 5 + phase) * Math.cos(y / 7) + 20 * Math.cos((x + 2 * y) / 11 + phase);
  });
  return { width, height, data };
}

const reference = waves(61, 47, 0);
const moving = waves(57, 50, 0.2);
const [gain, offset, spread, step] = [1.1, -6, 12, 2];

/** What the kernel sums, sample by sample: the residual, its weight and the slopes of the moving picture. */
function sampleAt(x: number, y: number, px: number, py: number) {
  if (!(px >= 2 && py >= 2 && px < moving.width - 3 && py < moving.height - 3)) return null;
  const r = reference.data[y * reference.width + x]!;
  const m = sampleCubic(moving, px, py);
  const residual = r - gain * m - offset;
  const d = 0.01;
  const mx = (gain * (sampleCubic(moving, px + d, py) - sampleCubic(moving, px - d, py))) / (2 * d);
  const my = (gain * (sampleCubic(moving, px, py + d) - sampleCubic(moving, px, py - d))) / (2 * d);
  return { r, m, residual, weight: Math.min(1, spread / Math.abs(residual)), mx, my };
}

// Positions are rounded to 1/1024 px in the kernel, and sums are made in f32: 0.3 % of the largest.
function expectNear(found: readonly number[], expected: readonly number[]): void {
  const most = Math.max(...expected.map(Math.abs));
  expected.forEach((value, i) => {
    expect(Math.abs(found[i]! - value)).toBeLessThan(3e-3 * most + 1e-3);
  });
}

describe('halving', () => {
  it('takes the mean of 2 x 2 and drops an odd last row and column', () => {
    const mark = kernel.mark();
    const laid = layPicture(kernel, reference);
    const out = kernel.allocate(30 * 23 * 4 + 16);
    kernel.run.halve(laid[0].pointer, 61, 47, out);
    const found = [...kernel.float32(out, 30 * 23)];
    kernel.release(mark);
    const { data } = reference;
    found.forEach((value, i) => {
      const at = 2 * Math.floor(i / 30) * 61 + 2 * (i % 30);
      expect(value).toBeCloseTo((data[at]! + data[at + 1]! + data[at + 61]! + data[at + 62]!) / 4, 3);
    });
  });
});

describe('alignSums', () => {
  it('sums as a plain loop does', () => {
    const matrix = [1.01, -0.02, 28.3, 0.015, 0.99, 24.1] as const;
    const unit = 40;
    const [topReference, topMoving] = [150, 148];
    const mark = kernel.mark();
    const out = kernel.reserve(79 * 8);
    const [one, other] = [layPicture(kernel, reference)[0], layPicture(kernel, moving)[0]];
    kernel.run.alignSums(
      one.pointer,
      one.width,
      one.height,
      other.pointer,
      other.width,
      other.height,
      ...matrix,
      gain,
      offset,
      unit,
      step,
      spread,
      topReference,
      topMoving,
      out,
    );
    const found = [...kernel.float64(out, 79)];
    kernel.release(mark);
    const normal = Array.from({ length: 64 }, () => 0);
    const right = Array.from({ length: 8 }, () => 0);
    const totals = Array.from({ length: 7 }, () => 0);
    for (let y = 1; y < reference.height; y += step) {
      for (let x = 1; x < reference.width; x += step) {
        const [qx, qy] = [x - 30, y - 23];
        const [a, b, c, d, e, f] = matrix;
        const s = sampleAt(x, y, a * qx + b * qy + c, d * qx + e * qy + f);
        if (s === null || s.r > topReference || s.m > topMoving) continue;
        const { mx, my, m, r, residual, weight } = s;
        const j = [(mx * qx) / unit, (mx * qy) / unit, (my * qx) / unit, (my * qy) / unit, mx, my, m, 1];
        j.forEach((value, row) => {
          right[row]! += weight * value * residual;
          j.forEach((another, column) => (normal[column * 8 + row]! += weight * value * another));
        });
        [1, Math.abs(residual), r, m, r * r, m * m, r * m].forEach((value, i) => (totals[i]! += value));
      }
    }
    for (let column = 0; column < 8; column++) {
      const from = column < 4 ? 0 : 4;
      const [start, end] = [column * 8 + from, column * 8 + 8];
      expectNear(found.slice(start, end), normal.slice(start, end));
    }
    expectNear(found.slice(64, 72), right);
    totals.forEach((value, i) => {
      expect(Math.abs(found[72 + i]! - value)).toBeLessThan(1e-3 * Math.abs(value));
    });
  });
});

describe('a grid of displacements', () => {
  const grid = stillGrid(reference, 16);
  for (let i = 0; i < grid.dx.length; i++) {
    grid.dx[i] = -2 + 0.3 * Math.sin(i);
    grid.dy[i] = 1.5 + 0.3 * Math.cos(2 * i);
  }
  /** Where a pixel lies and how it counts for the four nodes round it. */
  const placed = (x: number, y: number) => {
    const column = Math.floor(x / 16);
    const row = Math.floor(y / 16);
    const [u, v] = [x / 16 - column, y / 16 - row];
    const hats = [
      [(1 - u) * (1 - v), row * grid.columns + column],
      [u * (1 - v), row * grid.columns + column + 1],
      [(1 - u) * v, (row + 1) * grid.columns + column],
      [u * v, (row + 1) * grid.columns + column + 1],
    ] as const;
    const px = x + hats.reduce((sum, [hat, node]) => sum + hat * grid.dx[node]!, 0);
    const py = y + hats.reduce((sum, [hat, node]) => sum + hat * grid.dy[node]!, 0);
    return { hats, px, py };
  };

  it('nodeSums sums at its nodes as a plain loop does', () => {
    const places = grid.columns * grid.rows;
    const mark = kernel.mark();
    const [one, other] = [layPicture(kernel, reference)[0], layPicture(kernel, moving)[0]];
    const nodes = layGrid(kernel, grid);
    const out = kernel.reserve(places * 24);
    kernel.run.nodeSums(
      one.pointer,
      one.width,
      one.height,
      other.pointer,
      other.width,
      other.height,
      nodes,
      16,
      grid.columns,
      grid.rows,
      gain,
      offset,
      step,
      spread,
      out,
    );
    const found = [...kernel.float32(out, places * 6)];
    kernel.release(mark);
    const expected = Array.from({ length: places * 6 }, () => 0);
    for (let y = 1; y < reference.height; y += step) {
      for (let x = 1; x < reference.width; x += step) {
        const { hats, px, py } = placed(x, y);
        const s = sampleAt(x, y, px, py);
        if (s === null) continue;
        const { mx, my, residual, weight } = s;
        const products = [mx * mx, mx * my, my * my, mx * residual, my * residual, residual * residual];
        for (const [hat, node] of hats) {
          products.forEach((value, i) => (expected[node * 6 + i]! += hat * weight * value));
        }
      }
    }
    for (const sum of [0, 1, 2, 3, 4, 5]) {
      const of = (values: readonly number[]) => values.filter((_, i) => i % 6 === sum);
      expectNear(of(found), of(expected));
    }
  });

  it('warpPlane reads the picture where the grid says', () => {
    const mark = kernel.mark();
    const other = layPicture(kernel, moving)[0];
    const nodes = layGrid(kernel, grid);
    const out = kernel.reserve(61 * 47 * 4 + 16);
    kernel.run.warpPlane(other.pointer, 57, 50, nodes, 16, grid.columns, grid.rows, 2, out, 61, 47);
    const found = [...kernel.float32(out, 61 * 47)];
    kernel.release(mark);
    for (let y = 0; y < 47; y += 3) {
      for (let x = 0; x < 61; x += 3) {
        const { px, py } = placed(x, y);
        const inside = px >= 2 && py >= 2 && px < 53.9 && py < 46.9;
        if (inside) expect(Math.abs(found[y * 61 + x]! - 2 * sampleCubic(moving, px, py))).toBeLessThan(0.05);
      }
    }
  });
});
