// Developing against pictures whose truth is known: a camera that is a matrix, a petal that is one colour.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { xyzToLab } from '../colour/lab.ts';
import { deltaE2000 } from '../colour/delta-e.ts';
import { apply, type Matrix3, type Triple } from '../colour/matrix.ts';
import { RGB_SPACES, rgbToXyz, WORKING_SPACE } from '../colour/rgb-space.ts';
import { daylightChromaticity } from '../colour/daylight.ts';
import { adaptation, D65, xyzOfChromaticity } from '../colour/white.ts';
import { daylightOfNeutral, neutralOfDaylight, rebalanceRendered } from './camera-colour.ts';
import { developCamera, type CameraPicture } from './develop-camera.ts';
import { reconstructHighlights } from './highlights.ts';
import { blankPicture, cutPicture, type LinearPicture } from './linear-picture.ts';
import { decodeRendered, encodeRendered, toEightBit } from './rendered.ts';

/** XYZ to channels of one camera in the samples, as its decoder gives it (scaled by 10,000 in its table). */
const CAMERA: Matrix3 = [0.6257, -0.0303, -0.1, -0.788, 1.5621, 0.2396, -0.1714, 0.1904, 0.7046];
const white65 = xyzOfChromaticity(D65);

/** A camera picture of flat colours in a row, each 8 x 8 px, seen under a light. */
function photographOf(colours: readonly Triple[], light: Triple, scale = 20_000): CameraPicture {
  const side = 8;
  const width = side * colours.length;
  const data = new Uint16Array(width * side * 3);
  colours.forEach((xyz, n) => {
    const channels = apply(CAMERA, xyz);
    for (let y = 0; y < side; y += 1) {
      for (let x = 0; x < side; x += 1) {
        channels.forEach(
          (value, c) => (data[3 * (y * width + n * side + x) + c] = Math.round(value * scale)),
        );
      }
    }
  });
  return {
    width,
    height: side,
    data,
    whiteAt: [60_000, 60_000, 60_000],
    clipsAt: [60_000, 60_000, 60_000],
    xyzToCamera: CAMERA,
    asShotNeutral: apply(CAMERA, light),
  };
}

const pixel = ({ red, green, blue }: LinearPicture, i: number): Triple => [red[i]!, green[i]!, blue[i]!];
const labOf = (rgb: Triple, k: number) =>
  xyzToLab(apply(rgbToXyz(WORKING_SPACE), rgb.map((v) => v * k) as unknown as Triple), white65);

describe('developing', () => {
  it('gives the colours of the scene, adapted to D65, whatever daylight it was seen under', () => {
    const share = fc.double({ min: 0.02, max: 0.9, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(share, share, share),
        fc.integer({ min: 4200, max: 12_000 }),
        (rgb, temperature) => {
          const light = xyzOfChromaticity(daylightChromaticity(temperature));
          const under65 = apply(rgbToXyz(RGB_SPACES.srgb), rgb);
          const seen = apply(adaptation(white65, light), under65);
          if (!apply(CAMERA, seen).every((v) => v > 0)) return;
          const camera = photographOf([seen, light], light);
          const { picture, balanceGuessed } = developCamera(camera, { kind: 'asShot' });
          const [grey] = pixel(picture, 8);
          expect(balanceGuessed).toBe(false);
          expect(deltaE2000(labOf(pixel(picture, 0), 1 / grey), xyzToLab(under65, white65))).toBeLessThan(
            0.1,
          );
        },
      ),
      { seed: 6, numRuns: 60 },
    );
  });

  it('takes a grey patch, or a temperature, for white', () => {
    const light = xyzOfChromaticity(daylightChromaticity(7500));
    const camera = {
      ...photographOf([[0.2, 0.2, 0.1], light.map((v) => v * 0.4) as unknown as Triple], light),
      asShotNeutral: null,
    };
    const byPatch = developCamera(camera, { kind: 'greyPatch', x: 0.75, y: 0.5, radius: 0.1 });
    const [r, g, b] = pixel(byPatch.picture, 8);
    expect(r / g).toBeCloseTo(1, 3);
    expect(b / g).toBeCloseTo(1, 3);
    // Within 100 K: the fit of temperatures is not exact.
    expect(Math.abs((byPatch.temperatureK ?? 0) - 7500)).toBeLessThan(100);
    const byDaylight = developCamera(camera, { kind: 'daylight', temperatureK: 7500 });
    pixel(byDaylight.picture, 0).forEach((v, i) => expect(v).toBeCloseTo(pixel(byPatch.picture, 0)[i]!, 3));
    expect(developCamera(camera, { kind: 'asShot' }).balanceGuessed).toBe(true);
  });

  it('refuses a patch that is black or clipped', () => {
    const camera = photographOf(
      [
        [0, 0, 0],
        [5, 5, 5],
      ].map((v) => v as unknown as Triple),
      white65,
      12_000,
    );
    expect(() => developCamera(camera, { kind: 'greyPatch', x: 0.2, y: 0.5, radius: 0.1 })).toThrow(
      /neither black nor clipped/,
    );
    expect(() => developCamera(camera, { kind: 'greyPatch', x: 2, y: 0.5, radius: 0.1 })).toThrow(
      /from 0 to 1/,
    );
  });

  it('tells the daylight of a neutral', () => {
    for (const temperature of [4500, 5500, 6500, 9000]) {
      const found = daylightOfNeutral(CAMERA, neutralOfDaylight(CAMERA, temperature));
      expect(Math.abs((found ?? 0) - temperature) / temperature).toBeLessThan(0.01);
    }
    expect(daylightOfNeutral(CAMERA, [20, 1, 0.01])).toBeNull();
  });

  it('rebalances a rendered picture: 6,504 K changes nothing, less takes warmth away', () => {
    apply(rebalanceRendered(6503.6), [0.5, 0.5, 0.5]).forEach((v) =>
      expect(Math.abs(v - 0.5)).toBeLessThan(1e-3),
    );
    const [r, , b] = apply(rebalanceRendered(5000), [0.5, 0.5, 0.5]);
    expect(b).toBeGreaterThan(r);
  });
});

/** A petal of one colour with shading from dark to far beyond clipping, in balanced channels. */
function petal(colour: Triple, clipped: Triple) {
  const width = 160;
  const height = 64;
  const truth = blankPicture(width, height);
  const seen = blankPicture(width, height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const shade = 0.3 + (1.1 * x) / width + 0.05 * Math.sin(y / 5);
      (['red', 'green', 'blue'] as const).forEach((name, c) => {
        truth[name][y * width + x] = colour[c]! * shade;
        seen[name][y * width + x] = Math.min(clipped[c]!, colour[c]! * shade);
      });
    }
  }
  return { truth, seen };
}

describe('clipped highlights', () => {
  it.each([
    ['a red petal', [1, 0.35, 0.3], [0.9, 1, 0.95]],
    ['a yellow petal', [0.95, 0.8, 0.1], [0.9, 1.2, 1]],
    ['a violet petal', [0.5, 0.2, 0.9], [1, 1, 0.8]],
  ] as [string, Triple, Triple][])('%s keeps its hue when one channel clips', (_name, colour, clipped) => {
    const { truth, seen } = petal(colour, clipped);
    const before = Math.max(
      ...seen.red.map((v, i) => Math.abs(v - truth.red[i]!)),
      ...seen.blue.map((v, i) => Math.abs(v - truth.blue[i]!)),
    );
    expect(before).toBeGreaterThan(0.2);
    const { rebuilt, lost } = reconstructHighlights(seen, clipped as unknown as [number, number, number]);
    expect(rebuilt).toBeGreaterThan(0.1);
    expect(lost).toBe(0);
    // 2 %: the ratio is gathered as shares in cells, and values within 1.5 % of clipping are rebuilt as well.
    let off = 0;
    for (const name of ['red', 'green', 'blue'] as const) {
      seen[name].forEach((v, i) => {
        const wanted = truth[name][i]!;
        off = Math.max(off, Math.abs(v - wanted) / Math.max(0.2, wanted));
      });
    }
    expect(off).toBeLessThan(0.02);
  });

  it('never makes a clipped channel darker than its clipping level, nor touches what is not clipped', () => {
    const { seen } = petal([1, 0.9, 0.8], [0.7, 0.8, 0.9]);
    const before = { ...seen, red: seen.red.slice(), green: seen.green.slice() };
    reconstructHighlights(seen, [0.7, 0.8, 0.9]);
    seen.red.forEach((v, i) => {
      expect(v).toBeGreaterThanOrEqual(before.red[i]! - 1e-6);
      if (before.red[i]! < 0.6) expect(v).toBe(before.red[i]);
    });
  });

  it('makes grey of what no channel holds, and does nothing where nothing clips', () => {
    const { seen } = petal([2, 2, 2], [0.7, 0.8, 0.9]);
    expect(reconstructHighlights(seen, [0.7, 0.8, 0.9]).lost).toBeGreaterThan(0.3);
    const last = seen.red.length - 1;
    expect(pixel(seen, last).map((v) => v.toFixed(4))).toEqual(['0.9000', '0.9000', '0.9000']);
    expect(reconstructHighlights(blankPicture(9, 9), [1, 1, 1])).toEqual({ rebuilt: 0, lost: 0 });
  });
});

describe('rendered pictures', () => {
  it('come back within one code of 65,535, in every space with white D65', () => {
    const data = Uint16Array.from({ length: 3 * 32 * 32 }, (_, i) => (i * 40_503) % 65_536);
    const image = { width: 32, height: 32, data };
    for (const space of [RGB_SPACES.srgb, RGB_SPACES.displayP3, RGB_SPACES.adobeRgb, RGB_SPACES.wide]) {
      const back = encodeRendered(decodeRendered(image, space), space);
      // Adobe RGB's pure power has no straight part: below code 300 the quick table is off by a few.
      back.image.data.forEach((code, i) =>
        expect(Math.abs(code - data[i]!), `${space.name} ${data[i]}`).toBeLessThanOrEqual(
          data[i]! < 3000 ? 4 : 1,
        ),
      );
      expect(back.outsideGamut).toBe(0);
    }
  });

  it('say how much of them a narrower space cannot show', () => {
    const image = { width: 2, height: 1, data: Uint16Array.from([65_535, 0, 0, 20_000, 21_000, 22_000]) };
    const { outsideGamut, brighterThanWhite } = encodeRendered(
      decodeRendered(image, RGB_SPACES.displayP3),
      RGB_SPACES.srgb,
    );
    expect(outsideGamut).toBe(0.5);
    expect(brighterThanWhite).toBe(0);
  });

  it('become 8 bit by the nearest code', () => {
    const image = { width: 1, height: 1, data: Uint16Array.from([0, 65_535, 257 * 100 + 128]) };
    expect([...toEightBit(image).data]).toEqual([0, 255, 100]);
  });

  it('are read by strips and boxes alike', () => {
    const picture = decodeRendered({
      width: 4,
      height: 4,
      data: Uint16Array.from({ length: 48 }, (_, i) => i * 1300),
    });
    const whole = encodeRendered(picture, RGB_SPACES.srgb).image.data;
    const lower = encodeRendered(picture, RGB_SPACES.srgb, { rows: [2, 4] }).image.data;
    expect([...lower]).toEqual([...whole.subarray(24)]);
    expect(cutPicture(picture, { left: 1, top: 2, width: 2, height: 1 }).red).toEqual(
      picture.red.slice(9, 11),
    );
    expect(() => cutPicture(picture, { left: 3, top: 0, width: 2, height: 1 })).toThrow(/within the picture/);
  });
});
