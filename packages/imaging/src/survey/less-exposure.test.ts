import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seeded } from '../rendered/render-blur.ts';
import { lessExposure, lessToKeep } from './less-exposure.ts';

/** A petal whose brightest part falls off exponentially in stops: its truth goes beyond the top. */
function petal(stopsAbove: number, falloffStops: number) {
  const random = seeded(4);
  const data = new Uint8Array(200 * 200 * 3);
  for (let at = 0; at < data.length; at += 3) {
    const stops = stopsAbove - falloffStops * Math.log(1 - random());
    const linear = Math.min(1, 2 ** stops);
    const code = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
    data.fill(Math.round(255 * Math.min(1, code)), at, at + 3);
  }
  return { width: 200, height: 200, data };
}

describe('less exposure', () => {
  it.each([
    // share above x stops over the top: exp((a - x) / f) with a the offset; kept when that is 0.001.
    [-1.2, 0.4],
    [-0.9, 0.3],
    [-0.5, 0.15],
  ])('finds the stops beyond the top (offset %f, falloff %f)', (offset, falloff) => {
    const beyond = offset - falloff * Math.log(0.001);
    const { red } = lessExposure(petal(offset, falloff));
    expect(Math.abs(red.thirds - Math.ceil(3 * beyond))).toBeLessThanOrEqual(1);
    expect(red.more).toBe(false);
  });

  it('asks for nothing where only a glint is burnt, and says so where it cannot tell', () => {
    expect(lessToKeep(0.0005, 0.1)).toEqual({ thirds: 0, more: false });
    expect(lessToKeep(0.2, 0.2)).toEqual({ thirds: 6, more: true });
  });

  it('asks for more the more is burnt', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.002, max: 0.2, noNaN: true }),
        fc.double({ min: 1.1, max: 3, noNaN: true }),
        (burnt, ratio) => {
          const nearTop = burnt * ratio;
          const more = lessToKeep(Math.min(nearTop, burnt * 1.05), nearTop);
          expect(lessToKeep(burnt, nearTop).thirds).toBeLessThanOrEqual(more.thirds);
        },
      ),
      { seed: 5 },
    );
  });
});
