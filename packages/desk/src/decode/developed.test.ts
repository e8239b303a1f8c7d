// A raw developed by the decoder as shot: its codes are sRGB's, and a dark frame stays dark.
import { describe, expect, it } from 'vitest';
import { makeDng } from '../../fixtures/make-dng.ts';
import { openBytes } from './open-frame.ts';
import { rawRgb16, rawRgb8 } from './raw-decoder.ts';
import { newDecodeRoom } from './room.ts';

const [blackLevel, whiteLevel, side] = [1000, 51_000, 64];

/** A grey of so much of the white, seen alike by all channels. */
function greyDng(share: number): Buffer {
  const sample = Math.round(blackLevel + share * (whiteLevel - blackLevel));
  return makeDng({
    ...{
      width: side,
      height: side,
      mosaic: new Uint16Array(side * side).fill(sample),
      blackLevel,
      whiteLevel,
    },
    colourMatrix: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    asShotNeutral: [1, 1, 1],
  });
}

/** @source IEC 61966-2-1 */
const srgbOf = (light: number) => (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);

describe('a developed raw', () => {
  it.each([0.002, 0.05, 0.18, 0.5, 0.9])('of %d of the white has the code of sRGB', async (share) => {
    const bytes = greyDng(share);
    const { raw } = await openBytes(bytes, 'raw');
    const room = newDecodeRoom();
    const middle = 3 * ((side / 2) * side + side / 2) + 1;
    const eight = await rawRgb8(bytes, raw!.header, room);
    const sixteen = await rawRgb16(bytes, raw!.header, room);
    // A code and a half: the decoder rounds the light before the curve.
    expect(Math.abs(eight.data[middle]! - 255 * srgbOf(share))).toBeLessThan(1.5);
    expect(Math.abs(sixteen.data[middle]! / 65_535 - srgbOf(share))).toBeLessThan(0.003);
  });
});
