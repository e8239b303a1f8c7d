import { describe, expect, it } from 'vitest';
import { seeded } from '../rendered/render-blur.ts';
import { burntByLuma, burntFromLuma } from './burnt-by-luma.ts';
import { clipping } from './exposure-at-point.ts';

const side = 128;

/** A red petal, burnt in red at its light end, before leaves of the same luma; the seed is the noise, x the shift. */
function frame(seed: number, shift: number, light = 1) {
  const random = seeded(seed);
  const data = new Uint8Array(side * side * 3);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const at = (y * side + x) * 3;
      const along = (x + shift) / side;
      const inPetal = Math.hypot(x + shift - 64, y - 64) < 40;
      const colour = inPetal ? [210 + 70 * along, 40 + 60 * along, 60] : [60, 60 + 70 * along, 40];
      colour.forEach((code, channel) => {
        data[at + channel] = Math.max(0, Math.min(255, Math.round(code * light + 8 * (random() - 0.5))));
      });
    }
  }
  return { width: side, height: side, data };
}

const lumaOf = ({ width, height, data }: ReturnType<typeof frame>) => ({
  ...{ width, height },
  data: Uint8Array.from({ length: width * height }, (_, i) =>
    Math.round(0.299 * data[3 * i]! + 0.587 * data[3 * i + 1]! + 0.114 * data[3 * i + 2]!),
  ),
});

describe('what is burnt, told from luma by another frame', () => {
  const reference = frame(1, 0);
  const known = burntByLuma(reference, lumaOf(reference), 50);

  it('is what was counted, for the frame itself', () => {
    const told = burntFromLuma(known, lumaOf(reference), 50)!;
    const counted = clipping(reference, 50);
    expect(counted.red).toBeGreaterThan(0.05);
    for (const channel of ['red', 'green', 'blue'] as const) {
      expect(told[channel]).toBeCloseTo(counted[channel], 12);
    }
  });

  it('comes near to it for another frame of the series, shifted and with other noise', () => {
    for (const shift of [-3, -1, 2, 4]) {
      const other = frame(2 + shift, shift);
      const told = burntFromLuma(known, lumaOf(other), 50)!;
      // Two in a hundred: the shift itself moves the petal's edge across the radius.
      expect(Math.abs(told.red - clipping(other, 50).red)).toBeLessThan(0.02);
      expect(told.blue).toBe(0);
    }
  });

  it('is not told where the light changed', () => {
    expect(burntFromLuma(known, lumaOf(frame(3, 0, 0.93)), 50)).toBeNull();
  });
});
