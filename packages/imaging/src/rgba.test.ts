import { describe, expect, it } from 'vitest';
import { cropOfRgba, lumaOfRgba } from './rgba.ts';

const four = {
  width: 2,
  height: 2,
  data: Uint8Array.from([255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255, 77, 77, 77, 0]),
};

describe('a canvas’s pixels as luma', () => {
  it('weigh the primaries as ITU-T T.871 does, and leave grey as it is', () => {
    // 0.299, 0.587 and 0.114 of 255, rounded.
    expect([...lumaOfRgba(four).data]).toEqual([76, 150, 29, 77]);
    const white = { width: 1, height: 1, data: Uint8Array.from([255, 255, 255, 255]) };
    expect([...lumaOfRgba(white).data]).toEqual([255]);
  });
});

describe('a crop of a canvas’s pixels', () => {
  it('drops the opacity, and is cut off at the borders', () => {
    const crop = cropOfRgba(four, { left: 1, top: -3, width: 9, height: 9 });
    expect(crop).toMatchObject({ width: 1, height: 2 });
    expect([...crop.data]).toEqual([0, 255, 0, 77, 77, 77]);
  });

  it('of nothing is refused', () => {
    expect(() => cropOfRgba(four, { left: 5, top: 0, width: 2, height: 2 })).toThrow(/an image of at least/);
  });
});
