import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cropAround, cropsAbreast, placeUnder } from './crop-around.ts';

const fraction = fc.double({ min: 0, max: 1, noNaN: true });
const frame = fc.record({
  width: fc.integer({ min: 40, max: 9000 }),
  height: fc.integer({ min: 40, max: 9000 }),
});

describe('a crop at 100 %', () => {
  it('stands with its place in the middle of the cell, pixel for pixel', () => {
    const crop = cropAround(
      { width: 4000, height: 3000 },
      { x: 0.5, y: 0.5 },
      { width: 216, height: 216 },
      1,
    );
    expect(crop).toMatchObject({ x: 0.5, y: 0.5, width: 216, height: 216, leftCss: 0, topCss: 0 });
  });

  it('asks for as many pixels as the screen has', () => {
    const crop = cropAround(
      { width: 4000, height: 3000 },
      { x: 0.5, y: 0.5 },
      { width: 200, height: 200 },
      2,
    );
    expect(crop).toMatchObject({ width: 400, height: 400, widthCss: 200, heightCss: 200 });
  });

  it('never reaches beyond the frame, and keeps the place in the middle', () => {
    fc.assert(
      fc.property(frame, fraction, fraction, fc.constantFrom(1, 1.5, 2, 3), (size, x, y, ratio) => {
        const crop = cropAround(size, { x, y }, { width: 216, height: 180 }, ratio);
        const left = crop.x * size.width - crop.width / 2;
        expect(left).toBeGreaterThanOrEqual(-1e-6);
        expect(left + crop.width).toBeLessThanOrEqual(size.width + 1e-6);
        // The pixel of the place is drawn where the middle of the cell is.
        expect(crop.leftCss + (x * size.width - left) / ratio).toBeCloseTo(108, 6);
      }),
      { seed: 5 },
    );
  });
});

describe('the place under a point', () => {
  it('is the middle itself without an offset, and follows the screen’s pixels', () => {
    const size = { width: 4000, height: 2000 };
    expect(placeUnder(size, { x: 0.3, y: 0.4 }, { x: 0, y: 0 }, 2)).toEqual({ x: 0.3, y: 0.4 });
    const moved = placeUnder(size, { x: 0.5, y: 0.5 }, { x: 100, y: -50 }, 2);
    expect(moved.x).toBeCloseTo(0.55, 12);
    expect(moved.y).toBeCloseTo(0.45, 12);
  });

  it('stays inside the frame', () => {
    expect(placeUnder({ width: 100, height: 100 }, { x: 0, y: 1 }, { x: -80, y: 80 }, 1)).toEqual({
      x: 0,
      y: 1,
    });
  });
});

describe('crops abreast', () => {
  it('fill the row and never overflow it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 160, max: 4000 }), (width) => {
        const { count, sizeCss } = cropsAbreast(width, 150, 10);
        const taken = count * sizeCss + (count - 1) * 10;
        expect(taken).toBeLessThanOrEqual(width);
        expect(width - taken).toBeLessThan(count);
        expect(sizeCss).toBeGreaterThanOrEqual(150);
      }),
      { seed: 6 },
    );
  });

  it('are one where not even one fits', () => {
    expect(cropsAbreast(90, 150, 10)).toEqual({ count: 1, sizeCss: 90 });
  });
});
