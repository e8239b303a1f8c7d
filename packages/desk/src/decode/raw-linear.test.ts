// Raws whose samples are known: what comes out of the decoder is what was put into the file.
import { describe, expect, it } from 'vitest';
import { developCamera } from '@tepal/imaging';
import { CAMERA, chartDng, makeDng } from '../../fixtures/make-dng.ts';
import { DecodeFault } from './jpeg-decoder.ts';
import { rawLinear } from './raw-linear.ts';

/** A raw of one flat colour. */
function flatDng(samples: readonly [number, number, number], neutral: readonly number[]) {
  const side = 32;
  const mosaic = Uint16Array.from(
    { length: side * side },
    (_, i) => samples[(Math.floor(i / side) % 2) + (i % 2)]!,
  );
  return makeDng({
    width: side,
    height: side,
    mosaic,
    blackLevel: 1000,
    whiteLevel: 50_000,
    colourMatrix: CAMERA,
    asShotNeutral: neutral,
  });
}

describe('a raw in linear light', () => {
  it('has its black taken away, its white level and its own matrix and white', async () => {
    const { camera, matrixFrom } = await rawLinear(flatDng([11_000, 25_500, 20_600], [0.5, 1, 0.8]));
    const middle = 3 * (16 * camera.width + 16);
    const shares = [0, 1, 2].map((c) => camera.data[middle + c]! / camera.whiteAt[c]!);
    // (11,000 - 1,000) / 49,000 and so on; half a code of the decoder's rounding on the weakest channel.
    [10_000 / 49_000, 24_500 / 49_000, 19_600 / 49_000].forEach((share, c) =>
      expect(Math.abs(shares[c]! - share)).toBeLessThan(3e-5),
    );
    expect(matrixFrom).toBe('file');
    camera.xyzToCamera.forEach((value, i) => expect(value).toBeCloseTo(CAMERA[i]!, 4));
    [0.5, 1, 0.8].forEach((value, i) => expect(camera.asShotNeutral![i]).toBeCloseTo(value, 4));
  });

  it('is not made brighter because it is dark', async () => {
    const { camera } = await rawLinear(flatDng([41_000, 41_000, 41_000], [1, 1, 1]));
    expect(camera.data[3 * 500 + 1]! / camera.whiteAt[1]).toBeCloseTo(40_000 / 49_000, 4);
  });

  it('develops the chart: greys are grey', async () => {
    const { camera } = await rawLinear(chartDng(24));
    const { picture, temperatureK } = developCamera(camera, { kind: 'asShot' });
    for (let patch = 0; patch < 6; patch += 1) {
      const i = (3 * 24 + 12) * picture.width + patch * 24 + 12;
      expect(picture.red[i]! / picture.green[i]!).toBeCloseTo(1, 2);
    }
    // D65; the fit of temperatures is within 1 %.
    expect(Math.abs((temperatureK ?? 0) - 6504)).toBeLessThan(70);
  });

  it('cut off or no raw at all is a sentence', async () => {
    await expect(rawLinear(chartDng(16).subarray(0, 900))).rejects.toThrow(DecodeFault);
    await expect(rawLinear(new Uint8Array(0))).rejects.toThrow(/empty/);
  });
});
