// Gamut mapping by its laws: inside stays, outside comes in with lightness and hue kept.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chromaAndHue } from './lab.ts';
import { createGamutMapper } from './gamut.ts';
import { apply, invert } from './matrix.ts';
import { coneMatrix, oklabToCones, workingToOklab } from './oklab.ts';
import { RGB_SPACES, rgbToRgb, WORKING_SPACE } from './rgb-space.ts';

const { srgb, displayP3 } = RGB_SPACES;
const toWorking = rgbToRgb(srgb, WORKING_SPACE);
const p3ToWorking = rgbToRgb(displayP3, WORKING_SPACE);
const share = fc.double({ min: 0, max: 1, noNaN: true });
const colour = fc.tuple(share, share, share);
const out = new Float64Array(3);
const oklab = (rgbOfSrgb: ArrayLike<number>) =>
  workingToOklab(apply(toWorking, [rgbOfSrgb[0]!, rgbOfSrgb[1]!, rgbOfSrgb[2]!]));

describe('gamut mapping into sRGB', () => {
  const mapper = createGamutMapper(srgb);

  it('leaves what fits as it is', () => {
    fc.assert(
      fc.property(colour, (rgb) => {
        const reduced = mapper.map(...apply(toWorking, rgb), out);
        expect(reduced).toBe(0);
        rgb.forEach((value, i) => expect(Math.abs(out[i]! - value)).toBeLessThan(1e-9));
      }),
      { seed: 6 },
    );
  });

  it('keeps lightness and hue of what does not, and always lands inside', () => {
    fc.assert(
      fc.property(colour, (p3) => {
        const working = apply(p3ToWorking, p3);
        const reduced = mapper.map(...working, out);
        for (const value of out) expect(value).toSatisfy((v: number) => v >= 0 && v <= 1);
        if (reduced < 0.02) return;
        const before = workingToOklab(working);
        const after = oklab(out);
        expect(Math.abs(after[0] - before[0])).toBeLessThan(2e-3);
        const turned = Math.abs(chromaAndHue(after).hueDeg - chromaAndHue(before).hueDeg);
        // Within a degree: the boundary is found to a 4,000th and samples are cut at 1e-4 beyond it.
        expect(Math.min(turned, 360 - turned)).toBeLessThan(1.5);
        expect(chromaAndHue(after).chroma).toBeLessThan(chromaAndHue(before).chroma);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  it('turns a violet of P3 less than cutting its channels does', () => {
    const violet = apply(p3ToWorking, [0.25, 0, 0.9]);
    mapper.map(...violet, out);
    const wanted = chromaAndHue(workingToOklab(violet)).hueDeg;
    const mapped = Math.abs(chromaAndHue(oklab(out)).hueDeg - wanted);
    const cut = apply(rgbToRgb(WORKING_SPACE, srgb), violet).map((v) => Math.min(1, Math.max(0, v)));
    const clipped = Math.abs(chromaAndHue(oklab(cut)).hueDeg - wanted);
    expect(mapped).toBeLessThan(0.2);
    expect(clipped).toBeGreaterThan(5 * mapped);
  });

  it('makes white of what is lighter than white, and black of what is darker than black', () => {
    mapper.map(2, 2, 2, out);
    expect([...out]).toEqual([1, 1, 1]);
    mapper.map(-0.1, -0.1, -0.1, out);
    expect([...out]).toEqual([0, 0, 0]);
  });

  it('with ease keeps steps apart that would fall together on the boundary', () => {
    const eased = createGamutMapper(srgb, { ease: 0.3 });
    const fromCones = invert(coneMatrix(WORKING_SPACE));
    const chromas = [0.24, 0.27, 0.3].map((chroma) => {
      const [r, g, b] = apply(fromCones, oklabToCones([0.6, chroma * Math.cos(0.5), chroma * Math.sin(0.5)]));
      eased.map(r, g, b, out);
      return chromaAndHue(oklab(out)).chroma;
    });
    const hard = [0.27, 0.3].map((chroma) => {
      const [r, g, b] = apply(fromCones, oklabToCones([0.6, chroma * Math.cos(0.5), chroma * Math.sin(0.5)]));
      mapper.map(r, g, b, out);
      return chromaAndHue(oklab(out)).chroma;
    });
    expect(Math.abs(hard[1]! - hard[0]!)).toBeLessThan(1e-3);
    expect(chromas[1]! - chromas[0]!).toBeGreaterThan(1e-3);
    expect(chromas[2]! - chromas[1]!).toBeGreaterThan(1e-3);
  });

  it('with ease leaves pale colours alone', () => {
    const eased = createGamutMapper(srgb, { ease: 0.3 });
    expect(eased.map(...apply(toWorking, [0.4, 0.38, 0.36]), out)).toBe(0);
    expect(out[0]).toBeCloseTo(0.4, 6);
  });
});
