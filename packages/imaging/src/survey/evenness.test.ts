import { describe, expect, it } from 'vitest';
import { evennessOfLuma, evennessStops } from './exposure-at-point.ts';

/** Half the pixels of one code, half of another. */
function halves(a: number, b: number) {
  return { width: 40, height: 40, data: Uint8Array.from({ length: 1600 }, (_, i) => (i % 2 ? a : b)) };
}

describe('evenness from luma alone', () => {
  // IEC 61966-2-1: code 188 is 0.5029 of white, 99 % of a stop below it; code 55 is 0.0382, 4.71 stops.
  it.each([
    [255, 255, 0],
    [255, 188, 0.992],
    [55, 255, 4.71],
  ])('codes %i and %i lie %f stops apart', (a, b, stops) => {
    expect(evennessOfLuma(halves(a, b))).toBeCloseTo(stops, 2);
  });

  it('says of grey what the measure of colour says, within a disc too', () => {
    const { width, height } = { width: 60, height: 45 };
    const data = Uint8Array.from({ length: width * height }, (_, i) => (i * 37) % 211);
    const rgb = Uint8Array.from({ length: data.length * 3 }, (_, i) => data[Math.floor(i / 3)]!);
    for (const radius of [9, 17.3, 100]) {
      expect(evennessOfLuma({ width, height, data }, radius)).toBeCloseTo(
        evennessStops({ width, height, data: rgb }, radius),
        6,
      );
    }
  });
});
