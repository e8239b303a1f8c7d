// Exposure, tone and shade by their laws and on pictures whose light is known.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { photograph } from '../../fixtures/read-fixtures.ts';
import { blankPicture, copyPicture, type LinearPicture } from '../develop/linear-picture.ts';
import { applyTone, changeLight, MID_GREY, toneCurve } from './light.ts';
import { fillShade } from './shade.ts';
import { luminance } from './plane/luminance.ts';

/** A flat grey picture, or one made by a function of x and y. */
function pictureOf(width: number, height: number, light: (x: number, y: number) => number): LinearPicture {
  const picture = blankPicture(width, height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const value = light(x, y);
      picture.red[y * width + x] = value;
      picture.green[y * width + x] = value * 0.8;
      picture.blue[y * width + x] = value * 0.5;
    }
  }
  return picture;
}

describe('exposure', () => {
  it('of one stop doubles all light, and comes back exactly', () => {
    const picture = pictureOf(8, 8, (x, y) => 0.01 * x + 0.1 * y);
    const before = copyPicture(picture);
    changeLight(picture, 1);
    picture.red.forEach((value, i) => expect(value).toBe(2 * before.red[i]!));
    changeLight(picture, -1);
    expect(picture).toEqual(before);
    expect(() => changeLight(picture, Number.NaN)).toThrow(/exposure/);
  });
});

describe('the tone curve', () => {
  const tone = fc.record({
    contrast: fc.double({ min: 0.5, max: 2, noNaN: true }),
    shoulderFrom: fc.double({ min: 0.1, max: 0.98, noNaN: true }),
    headroomStops: fc.double({ min: 0.05, max: 4, noNaN: true }),
  });

  it('rises everywhere, stays within 0 and 1 up to its headroom, and keeps mid-grey below the shoulder', () => {
    fc.assert(
      fc.property(tone, fc.double({ min: 0, max: 20, noNaN: true }), (settings, light) => {
        const curve = toneCurve(settings);
        expect(curve(light)).toBeGreaterThanOrEqual(0);
        expect(curve(light)).toBeLessThanOrEqual(1);
        expect(curve(light * 1.01 + 1e-6)).toBeGreaterThanOrEqual(curve(light));
        if (settings.shoulderFrom > MID_GREY) expect(curve(MID_GREY)).toBeCloseTo(MID_GREY, 12);
      }),
      { seed: 6 },
    );
  });

  it('leaves the straight part with slope 1 and reaches white at its headroom', () => {
    const curve = toneCurve({ shoulderFrom: 0.6, headroomStops: 1.5 });
    expect(curve(0.6)).toBeCloseTo(0.6, 12);
    expect((curve(0.6001) - curve(0.6)) / 1e-4).toBeCloseTo(1, 3);
    expect(curve(2 ** 1.5)).toBe(1);
    expect(curve(2 ** 1.49)).toBeLessThan(1);
  });

  it('keeps the ratios of the channels of a petal brighter than white, and its shading', () => {
    const picture = pictureOf(64, 1, (x) => 0.5 + x / 40);
    const before = copyPicture(picture);
    applyTone(picture, { shoulderFrom: 0.5, headroomStops: 2 });
    for (let i = 0; i < 64; i += 1) {
      expect(picture.red[i]).toBeLessThanOrEqual(1.0001);
      expect(picture.green[i]! / picture.red[i]!).toBeCloseTo(before.green[i]! / before.red[i]!, 5);
      if (i > 0) expect(picture.red[i]).toBeGreaterThan(picture.red[i - 1]!);
    }
  });

  it('does nothing where nothing is asked for', () => {
    const picture = pictureOf(8, 8, (x) => x / 3);
    const before = copyPicture(picture);
    applyTone(picture, {});
    expect(picture).toEqual(before);
  });
});

describe('filling the shade', () => {
  it('lifts the shaded half, leaves the lit half, keeps texture and colours, and makes no halo', async () => {
    const texture = await photograph('scabious');
    const { width, height } = texture;
    const detail = (x: number, y: number) => 0.75 + (0.5 * texture.data[y * width + x]!) / 255;
    // The left half lies in shade, five stops darker, with a hard border.
    const shaded = (x: number) => x < width / 2;
    const picture = pictureOf(width, height, (x, y) => detail(x, y) * (shaded(x) ? 0.5 / 32 : 0.5));
    const before = copyPicture(picture);
    fillShade(picture, { stops: 1.5 });
    const gains = { shade: [] as number[], lit: [] as number[] };
    let turned = 0;
    picture.red.forEach((value, i) => {
      const x = i % width;
      turned = Math.max(turned, Math.abs(picture.green[i]! / value - 0.8));
      if (Math.abs(x - width / 2) < 0.06 * width) return;
      (shaded(x) ? gains.shade : gains.lit).push(Math.log2(value / before.red[i]!));
    });
    expect(turned).toBeLessThan(1e-5);
    const mean = (list: readonly number[]) => list.reduce((sum, one) => sum + one, 0) / list.length;
    expect(mean(gains.shade)).toBeGreaterThan(1.2);
    expect(mean(gains.lit)).toBeLessThan(0.1);
    // Texture: within the shade the lift is nearly the same everywhere.
    expect(
      gains.shade.reduce((a, b) => Math.max(a, b)) - gains.shade.reduce((a, b) => Math.min(a, b)),
    ).toBeLessThan(0.45);
    // Halo: beside the border the lit side is not darkened, and the shaded side stays darker than the lit one.
    const after = luminance(picture);
    for (let y = 0; y < height; y += 7) {
      const row = y * width;
      const edge = Math.floor(width / 2);
      expect(picture.red[row + edge + 1]! / before.red[row + edge + 1]!).toBeGreaterThanOrEqual(1);
      expect(after.data[row + edge - 2]!).toBeLessThan(after.data[row + edge + 2]!);
    }
  });

  it('never makes a darker flat patch brighter than a lighter one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -11, max: 0, noNaN: true }),
        fc.double({ min: 0.1, max: 3, noNaN: true }),
        (tone, stops) => {
          const dark = pictureOf(12, 12, () => 2 ** tone);
          const light = pictureOf(12, 12, () => 2 ** (tone + 0.2));
          fillShade(dark, { stops });
          fillShade(light, { stops });
          expect(dark.red[70]).toBeLessThan(light.red[70]!);
        },
      ),
      { seed: 6, numRuns: 60 },
    );
  });
});
