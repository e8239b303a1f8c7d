import { describe, expect, it } from 'vitest';
import { windChillC } from './feels-like.ts';

describe('wind chill', () => {
  // From memory of the published table, rounded to whole degrees: -10 °C at 20 km/h is -18, 0 °C at 30 km/h is -6.
  it.each([
    [-10, 20, -18],
    [0, 30, -6],
  ])('of %i °C at %i km/h is %i (from memory)', (T, kmh, chill) => {
    expect(Math.abs(windChillC(T, kmh / 3.6) - chill)).toBeLessThan(0.6);
  });

  it('is the air itself when it is warm or calm, and never warmer than it', () => {
    expect(windChillC(15, 10)).toBe(15);
    expect(windChillC(-5, 1)).toBe(-5);
    for (let T = -40; T <= 10; T += 5)
      for (let u = 0; u < 30; u += 2) expect(windChillC(T, u)).toBeLessThanOrEqual(T);
  });
});
