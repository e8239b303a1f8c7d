// Crop, level, reduce and sharpen: by their laws and on gratings.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { photograph } from '../../fixtures/read-fixtures.ts';
import { blankPicture, copyPicture, planesOf, type LinearPicture } from '../develop/linear-picture.ts';
import { boxOf, frame, levelledSize } from './geometry.ts';
import { reduceTo } from './reduce.ts';
import { HALO_LIMIT, sharpen, sharpeningSigmaPx } from './sharpen.ts';

function grey(width: number, height: number, light: (x: number, y: number) => number): LinearPicture {
  const picture = blankPicture(width, height);
  for (const plane of planesOf(picture)) {
    for (let i = 0; i < plane.length; i += 1) plane[i] = light(i % width, Math.floor(i / width));
  }
  return picture;
}

describe('crop and level', () => {
  it('keeps every sample of a crop as it is', () => {
    const picture = grey(40, 30, (x, y) => x + 100 * y);
    const { width, height, red } = frame(picture, {
      crop: { left: 0.25, top: 0.5, width: 0.5, height: 0.4 },
    });
    expect([width, height]).toEqual([20, 12]);
    expect(red[0]).toBe(10 + 100 * 15);
    expect(red[12 * 20 - 1]).toBe(29 + 100 * 26);
    expect(frame(picture, {})).toBe(picture);
  });

  it('refuses a crop beyond the picture', () => {
    expect(() => boxOf({ left: 0.6, top: 0, width: 0.5, height: 1 }, { width: 9, height: 9 })).toThrow(
      /within the picture/,
    );
  });

  it('turns a plane exactly: what is a straight slope stays one, turned', () => {
    const picture = grey(200, 160, (x, y) => 0.2 + 0.002 * x + 0.001 * y);
    const angle = 7;
    const out = frame(picture, { levelDeg: angle });
    const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
    // Counter-clockwise as seen: the picture's x axis now points up to the right.
    const alongX = (out.red[50 * out.width + 100]! - out.red[50 * out.width + 60]!) / 40;
    const alongY = (out.red[80 * out.width + 60]! - out.red[40 * out.width + 60]!) / 40;
    expect(alongX).toBeCloseTo(0.002 * c + 0.001 * s, 6);
    expect(alongY).toBeCloseTo(-0.002 * s + 0.001 * c, 6);
  });

  it('turned there and back about the middle is where it was', async () => {
    const image = await photograph('white-umbel');
    const smooth = grey(image.width, image.height, (x, y) => 0.3 + 0.2 * Math.sin(x / 9) * Math.cos(y / 11));
    const back = frame(frame(smooth, { levelDeg: 5 }), { levelDeg: -5 });
    const dx = Math.floor(image.width / 2) - Math.floor(back.width / 2);
    const dy = Math.floor(image.height / 2) - Math.floor(back.height / 2);
    for (let y = 20; y < back.height - 20; y += 9) {
      for (let x = 20; x < back.width - 20; x += 9) {
        // Rounding the size may move the middle by up to half a pixel each way; the wave's slope is 0.022 a pixel.
        expect(
          Math.abs(back.red[y * back.width + x]! - smooth.red[(y + dy) * image.width + x + dx]!),
        ).toBeLessThan(0.035);
      }
    }
  });

  it('keeps only what lies inside the turned picture, and its proportions', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 50, max: 4000 }),
        fc.integer({ min: 50, max: 4000 }),
        fc.double({ min: -45, max: 45, noNaN: true }),
        (w, h, angle) => {
          const size = levelledSize(w, h, angle);
          const a = (Math.abs(angle) * Math.PI) / 180;
          expect(size.width * Math.cos(a) + size.height * Math.sin(a)).toBeLessThanOrEqual(w + 1e-6);
          expect(size.width * Math.sin(a) + size.height * Math.cos(a)).toBeLessThanOrEqual(h + 1e-6);
          expect(Math.abs(size.width / size.height / (w / h) - 1)).toBeLessThan(
            2.1 / Math.min(size.width, size.height),
          );
        },
      ),
      { seed: 6 },
    );
  });
});

describe('reducing', () => {
  it('keeps flat light flat, the mean of a picture, and stripes in linear light', () => {
    const flat = reduceTo(
      grey(97, 61, () => 0.37),
      41,
      23,
    );
    flat.red.forEach((value) => expect(value).toBeCloseTo(0.37, 5));
    // Stripes one pixel wide, black and white, are half the light: 0.5, not the half of an encoded code.
    const stripes = reduceTo(
      grey(256, 64, (x) => (x % 2 === 0 ? 0 : 1)),
      64,
      16,
    );
    for (let x = 4; x < 60; x += 1) expect(stripes.red[8 * 64 + x]).toBeCloseTo(0.5, 2);
  });

  it('lets no grating through that the new size cannot show, and keeps one that it can', () => {
    const contrast = (period: number) => {
      const small = reduceTo(
        grey(800, 8, (x) => 0.5 + 0.4 * Math.cos((2 * Math.PI * x) / period)),
        200,
        2,
      );
      const middle = [...small.red.subarray(20, 180)];
      return (Math.max(...middle) - Math.min(...middle)) / 0.8;
    };
    // Four to one: 8 px is the finest period that can be shown.
    expect(contrast(5)).toBeLessThan(0.02);
    expect(contrast(18)).toBeGreaterThan(0.9);
  });

  it('never enlarges', () => {
    expect(() => reduceTo(blankPicture(10, 10), 11, 10)).toThrow(/nothing is enlarged/);
    const picture = blankPicture(10, 10);
    expect(reduceTo(picture, 10, 10)).toBe(picture);
  });
});

describe('sharpening', () => {
  it('steepens a soft edge without passing its neighbours by more than the limit, and leaves flat parts', () => {
    const picture = grey(80, 12, (x) => 0.1 + 0.5 / (1 + Math.exp(-(x - 40) / 0.6)));
    const before = copyPicture(picture);
    sharpen(picture, { medium: 'mattPaper', strength: 2 });
    const slope = (p: LinearPicture) => p.red[6 * 80 + 41]! - p.red[6 * 80 + 39]!;
    expect(slope(picture)).toBeGreaterThan(1.1 * slope(before));
    const lightness = (p: LinearPicture, i: number) => Math.cbrt(p.red[i]!);
    for (let x = 1; x < 79; x += 1) {
      const i = 6 * 80 + x;
      const near = [lightness(before, i - 1), lightness(before, i), lightness(before, i + 1)];
      expect(lightness(picture, i)).toBeLessThanOrEqual(Math.max(...near) + HALO_LIMIT + 1e-6);
      expect(lightness(picture, i)).toBeGreaterThanOrEqual(Math.min(...near) - HALO_LIMIT - 1e-6);
    }
    expect(picture.red[6 * 80 + 5]).toBe(before.red[6 * 80 + 5]);
  });

  it('leaves grain that is finer than what is seen, and turns no hue', () => {
    const picture = grey(40, 40, (x, y) => 0.4 + ((x * 7 + y * 13) % 5) * 0.0006);
    for (let i = 0; i < picture.blue.length; i += 1) picture.blue[i] = picture.blue[i]! * 0.3;
    const before = copyPicture(picture);
    sharpen(picture, { medium: 'screen', strength: 1 });
    expect(picture).toEqual(before);
    const edge = grey(40, 40, (x) => (x < 20 ? 0.1 : 0.5));
    for (let i = 0; i < edge.blue.length; i += 1) edge.blue[i] = edge.blue[i]! * 0.3;
    sharpen(edge, { medium: 'screen', strength: 1 });
    edge.blue.forEach((value, i) => expect(value / edge.red[i]!).toBeCloseTo(0.3, 5));
  });

  it('goes by what the eye can part: coarser from farther away, never finer than the pixel', () => {
    const at = (viewingDistanceMm: number) =>
      sharpeningSigmaPx({ medium: 'glossyPaper', strength: 1, ppi: 300, viewingDistanceMm });
    // OI C-19: 1 arc minute at 300 mm is 291 ppi, so at 300 ppi one pixel; 0.6 of it.
    expect(at(300)).toBeCloseTo(0.6 * (300 / 291.06), 3);
    expect(at(100)).toBe(0.6);
    expect(at(900)).toBeGreaterThan(at(300));
  });
});
