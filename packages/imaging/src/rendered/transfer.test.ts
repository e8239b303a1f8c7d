import { describe, expect, it } from 'vitest';
import { besselJ1 } from './transfer.ts';

describe('J1', () => {
  it("agrees with Bessel's integral, whose trapezoid rule is exact to rounding", () => {
    for (let x = 0; x < 200; x += 0.37) {
      const n = Math.ceil(2 * x) + 40;
      let sum = 0;
      for (let k = 0; k < n; k++) {
        const t = (2 * Math.PI * k) / n;
        sum += Math.cos(t - x * Math.sin(t));
      }
      expect(Math.abs(besselJ1(x) - sum / n), `x = ${String(x)}`).toBeLessThan(1e-7);
    }
  });
});
