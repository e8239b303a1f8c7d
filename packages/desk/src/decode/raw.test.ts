import { describe, expect, it } from 'vitest';
import { bringUpright } from './pixels.ts';
import { lumaOfFrame, openBytes } from './open-frame.ts';
import { rawMosaic } from './raw-decoder.ts';
import { bayerOf, clippingOfMosaic, lumaOfMosaic, type Mosaic } from './raw-mosaic.ts';
import { renderDng } from './rendered-dng.ts';
import { newDecodeRoom } from './room.ts';
import { asStored, sensorClippingAt } from './sensor-clipping.ts';

const size = { width: 512, height: 384 };
const levels = { blackLevel: 512, whiteLevel: 15_000 };

async function open(bytes: Buffer) {
  const frame = await openBytes(bytes, 'raw');
  return { frame, header: frame.raw!.header };
}

describe('the samples of a raw', () => {
  it('come as the sensor gave them, with the black and the white level of the file', async () => {
    const sampleAt = (x: number, y: number) => 600 + ((x * 31 + y * 17) % 12_000);
    const { frame, header } = await open(renderDng({ ...size, ...levels, sampleAt }));
    expect(header).toMatchObject({ ...size, bayer: true, camera: 'Invented Close-up 20' });
    const mosaic = await rawMosaic(frame.bytes, header, newDecodeRoom());
    expect(mosaic).toMatchObject({ ...size, ...levels, colours: [0, 1, 1, 2] });
    for (const [x, y] of [
      [0, 0],
      [1, 0],
      [255, 100],
      [511, 383],
    ] as const) {
      expect(mosaic.data[mosaic.start + y * mosaic.stride + x]).toBe(sampleAt(x, y));
    }
  });

  it('that are burnt are counted colour by colour, within the disc', async () => {
    // Left half: red full, green at a quarter, blue at an eighth; right half: all at a quarter.
    const span = levels.whiteLevel - levels.blackLevel;
    const at = (share: number) => levels.blackLevel + share * span;
    const { frame } = await open(
      renderDng({
        ...{ ...size, ...levels },
        sampleAt: (x, _, colour) => at(x < 256 ? ([1, 1 / 4, 1 / 8] as const)[colour] : 1 / 4),
      }),
    );
    const room = newDecodeRoom();
    const left = await sensorClippingAt(frame, { x: 0.25, y: 0.5 }, 0.05, room);
    expect(left).toEqual({ red: 1, green: 0, blue: 0, headroomStops: 0 });
    const right = await sensorClippingAt(frame, { x: 0.75, y: 0.5 }, 0.05, room);
    expect(right).toMatchObject({ red: 0, green: 0, blue: 0 });
    // Two stops below full, less the hundredth from which samples count as full.
    expect(right!.headroomStops).toBeCloseTo(2 + Math.log2(0.99), 2);
  });

  it('make upright luma without a preview, within the file that lies turned', async () => {
    const { frame } = await open(
      renderDng({ ...size, ...levels, orientation: 6, sampleAt: (x) => (x < 256 ? 600 : 14_000) }),
    );
    const luma = await lumaOfFrame(frame, newDecodeRoom());
    expect([luma.width, luma.height]).toEqual([size.height, size.width]);
    // What lay to the right lies below.
    expect(luma.data[10 * luma.width + 100]).toBeLessThan(40);
    expect(luma.data[500 * luma.width + 100]).toBeGreaterThan(240);
  });

  it('of a file that is cut off are named as missing, with their size', async () => {
    const whole = renderDng({ ...size, ...levels, sampleAt: () => 3000 });
    const { frame } = await open(whole.subarray(0, 9000));
    await expect(lumaOfFrame(frame, newDecodeRoom())).rejects.toThrow('9000 bytes cannot hold 512 × 384 px');
  });
});

/** A mosaic of a grey picture. */
function mosaicOf(valueAt: (x: number, y: number) => number): Mosaic {
  const data = new Uint16Array(size.width * size.height);
  for (let y = 0; y < size.height; y += 1) {
    for (let x = 0; x < size.width; x += 1) data[y * size.width + x] = Math.round(65_535 * valueAt(x, y));
  }
  return {
    ...{ ...size, data, start: 0, stride: size.width, colours: [0, 1, 1, 2] },
    ...{ blackLevel: 0, whiteLevel: 65_535, balance: [1, 1, 1] },
  };
}

describe('luma of a mosaic', () => {
  it('is the picture itself where it is straight, up to the edges', () => {
    const { data } = lumaOfMosaic(
      mosaicOf(() => 0.5),
      new Uint8Array(size.width * size.height),
    );
    // sRGB's curve: half the light is code 188 (IEC 61966-2-1).
    expect(new Set(data)).toEqual(new Set([188]));
  });

  it('does not show the pattern of a coloured picture', () => {
    const mosaic = mosaicOf((x, y) => [0.9, 0.3, 0.1][(x & 1) + (y & 1)]!);
    const { data } = lumaOfMosaic(mosaic, new Uint8Array(size.width * size.height));
    // (0.9 + 2 x 0.3 + 0.1) / 4 = 0.4 of the light is code 170.
    expect(new Set(data)).toEqual(new Set([170]));
  });

  it('adds no blur to an edge of known width', () => {
    // A Gaussian edge of 2 px: what stands between its halves of the step tells its sigma.
    const sigma = 2;
    const erf = (t: number) => {
      // Abramowitz and Stegun 1964, 7.1.26.
      const u = 1 / (1 + 0.3275911 * Math.abs(t));
      const sum =
        ((((1.061405429 * u - 1.453152027) * u + 1.421413741) * u - 0.284496736) * u + 0.254829592) * u;
      return Math.sign(t) * (1 - sum * Math.exp(-t * t));
    };
    const step = (x: number) => 0.2 + 0.3 * (1 + erf((x - 255.5) / (sigma * Math.SQRT2)));
    const { data } = lumaOfMosaic(mosaicOf(step), new Uint8Array(size.width * size.height));
    const linear = (code: number) => ((code / 255 + 0.055) / 1.055) ** 2.4;
    // Variance of the edge's slope.
    let [sum, mean, square] = [0, 0, 0];
    for (let x = 240; x < 271; x += 1) {
      const slope = linear(data[200 * size.width + x + 1]!) - linear(data[200 * size.width + x]!);
      sum += slope;
      mean += slope * (x + 0.5);
      square += slope * (x + 0.5) ** 2;
    }
    const found = Math.sqrt(square / sum - (mean / sum) ** 2);
    // Differences of neighbours add a twelfth of a square pixel; codes of 8 bits allow two in a hundred.
    expect(found).toBeGreaterThan(0.98 * Math.sqrt(sigma ** 2 + 1 / 12));
    expect(found).toBeLessThan(1.02 * Math.sqrt(sigma ** 2 + 1 / 12));
  });

  it('reads the decoder codes of the four Bayer patterns, and knows no other', () => {
    // LibRaw, libraw/libraw_const.h and its documentation of `filters` [from memory].
    expect(bayerOf(0x94949494, 'RGBG')).toEqual([0, 1, 1, 2]);
    expect(bayerOf(0xb4b4b4b4, 'RGBG')).toEqual([0, 1, 1, 2]);
    expect(bayerOf(0x16161616, 'RGBG')).toEqual([2, 1, 1, 0]);
    expect(bayerOf(0x61616161, 'RGBG')).toEqual([1, 0, 2, 1]);
    expect(bayerOf(0x49494949, 'RGBG')).toEqual([1, 2, 0, 1]);
    expect([bayerOf(0, 'RGBG'), bayerOf(9, 'RGBG'), bayerOf(0xb4b4b4b4, 'CMYG')]).toEqual([null, null, null]);
  });
});

describe('a place of the upright picture', () => {
  it('is found in the picture as stored, in all eight orientations', () => {
    const stored = { width: 3, height: 2, data: Uint8Array.from([0, 1, 2, 3, 4, 5]) };
    for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8] as const) {
      const upright = bringUpright(stored, 1, orientation);
      for (let i = 0; i < 6; i += 1) {
        const x = ((i % upright.width) + 0.5) / upright.width;
        const y = (Math.floor(i / upright.width) + 0.5) / upright.height;
        const place = asStored({ x, y }, orientation);
        const from = Math.floor(place.y * 2) * 3 + Math.floor(place.x * 3);
        expect(stored.data[from], `orientation ${orientation}, pixel ${i}`).toBe(upright.data[i]);
      }
    }
  });
});

describe('clipping below the stated white level', () => {
  it('is found where samples pile up', () => {
    const mosaic = mosaicOf((x) => (x < 300 ? 0.93 : x / 1100));
    const { red, green } = clippingOfMosaic(mosaic, { x: 100, y: 200 }, 20);
    expect([red, green]).toEqual([1, 1]);
    expect(clippingOfMosaic(mosaic, { x: 450, y: 200 }, 20)).toMatchObject({ red: 0, green: 0, blue: 0 });
  });
});
