import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sharpTiles } from './sharp-tiles.ts';

/** A map in which each tile holds an edge spread by a known sigma: fineness 1 / (2 sigma²). */
const ofSigmas = (sigmas: readonly number[], gradient = 100) => ({
  ...{ columns: sigmas.length, rows: 1 },
  gradient: sigmas.map(() => gradient),
  detail: sigmas.map((sigma) => gradient / (2 * sigma ** 2)),
});

describe('where a frame is sharp', () => {
  it('is where edges are spread by no more than the limit', () => {
    expect(sharpTiles(ofSigmas([0.9, 1, 3, 6]), 1)).toEqual([true, true, false, false]);
  });

  it('is nowhere in a frame that is soft throughout', () => {
    expect(sharpTiles(ofSigmas([3, 3.1, 4]), 1).includes(true)).toBe(false);
  });

  it('is never where there is no structure', () => {
    const plain = { columns: 2, rows: 1, gradient: [100, 0.2], detail: [50, 0.2] };
    expect(sharpTiles(plain, 1)).toEqual([true, false]);
  });

  it('grows with the limit', () => {
    const sigma = fc.double({ min: 0.6, max: 8, noNaN: true });
    fc.assert(
      fc.property(fc.array(sigma, { minLength: 1, maxLength: 30 }), sigma, (sigmas, limit) => {
        const [small, large] = [limit, limit * 1.5].map((px) => sharpTiles(ofSigmas(sigmas), px));
        expect(small!.every((sharp, tile) => !sharp || large![tile])).toBe(true);
      }),
      { seed: 20_262 },
    );
  });

  it('says what it expects of a limit', () => {
    expect(() => sharpTiles(ofSigmas([1]), 0)).toThrow(/limitPx/);
  });
});
