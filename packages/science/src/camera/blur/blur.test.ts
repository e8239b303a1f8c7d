import { describe, expect, it } from 'vitest';
import { combinedSigma, discSigma, streakSigma } from './blur-budget.ts';
import { DEFAULT_DELIVERY, depthDiscMm, enlargement, limitUm, pixelPitchUm } from './delivery.ts';
import {
  airyDiameterUm,
  diffractionCutOffPerMm,
  diffractionMtf,
  diffractionSigmaUm,
  waveDepthOfLens,
  waveDepthUm,
} from './diffraction.ts';
import {
  combinedMtf,
  combinedMtf50PerMm,
  discMtf,
  gaussianMtf,
  gaussianOfMtf50Um,
  oscillationMtf,
  streakMtf,
} from './mtf.ts';

describe('diffraction', () => {
  it('OI O-32, O-33: Airy diameters', () => {
    const printed = [1.776, 3.553, 7.105, 10.15, 13.957, 20.301];
    // The 520 nm table uses 2.44 for 2 x 1.21967: 0.03 %.
    [1.4, 2.8, 5.6, 8, 11, 16].forEach((N, i) => {
      expect(Math.abs(airyDiameterUm(N, 0.52) - printed[i]!)).toBeLessThanOrEqual(7e-3);
    });
    expect(Math.abs(airyDiameterUm(16) - 21.466)).toBeLessThanOrEqual(5e-3);
    expect(diffractionCutOffPerMm(16)).toBeCloseTo(113.64, 2);
  });

  it('OI O-34: MTF', () => {
    expect(diffractionMtf(0.1)).toBeCloseTo(0.872889, 6);
    expect(diffractionMtf(0.5)).toBeCloseTo(0.391002, 6);
    expect(diffractionMtf(0.9)).toBeCloseTo(0.037386, 6);
    expect(diffractionMtf(0.40397)).toBeCloseTo(0.5, 4);
    expect(diffractionMtf(1.2)).toBe(0);
  });

  it('OI O-35 (Keiser, example 8.4), O-36: depth by wave optics', () => {
    expect(Math.abs(waveDepthUm(0.2, 0.78, 1.51) - 29.4)).toBeLessThan(0.05);
    expect(Math.abs(waveDepthUm(0.55, 0.78, 1.51) - 3.89)).toBeLessThan(0.005);
    expect(waveDepthOfLens(1, 16)).toEqual({
      numericalAperture: 0.03125,
      depthMm: expect.closeTo(0.5632, 4),
    });
  });

  it("the contract's sigma has the MTF50 of the Airy pattern", () => {
    // 0.464 is rounded from 0.46387: 0.03 %.
    expect(gaussianMtf(diffractionSigmaUm(8), 0.40397 * diffractionCutOffPerMm(8))).toBeCloseTo(0.5, 3);
  });
});

describe('MTF of motion, disc and product', () => {
  it('OI M-9, M-10, M-11, M-14', () => {
    expect(streakMtf(5, 50)).toBeCloseTo(0.900316, 6);
    expect(streakMtf(10, 50)).toBeCloseTo(0.63662, 6);
    expect(oscillationMtf(5, 20)).toBeCloseTo(0.903713, 6);
    expect(oscillationMtf(5, 50)).toBeCloseTo(0.472001, 6);
    expect(gaussianMtf(5, 20)).toBeCloseTo(0.820869, 6);
    expect(gaussianMtf(3, 50)).toBeCloseTo(0.641381, 6);
    expect(gaussianMtf(5, 50)).toBeCloseTo(0.291213, 6);
    expect(discMtf(30, 20)).toBeCloseTo(0.616962, 6);
  });

  it('OI S-1, S-2: half modulation of a Gaussian seen by square pixels, in cycles/px', () => {
    const mtf50 = (mtf: (nu: number) => number): number => {
      let [low, high] = [0, 1];
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2;
        if (mtf(middle) >= 0.5) low = middle;
        else high = middle;
      }
      return low;
    };
    // A pixel of 1 mm, so that cycles/mm are cycles/px.
    const rows = [
      [0.4, 0.37659],
      [0.6, 0.28072],
      [0.8, 0.22012],
      [1.2, 0.1518],
    ] as const;
    for (const [sigma, expected] of rows) {
      expect(mtf50((nu) => streakMtf(1000, nu) * gaussianMtf(1000 * sigma, nu))).toBeCloseTo(expected, 5);
    }
    expect(mtf50((nu) => streakMtf(1000, nu))).toBeCloseTo(0.603355, 6);
    expect(streakMtf(1000, 0.5)).toBeCloseTo(0.63662, 6);
    expect(gaussianOfMtf50Um(0.187391) / 1000).toBeCloseTo(1, 5);
  });

  it('OI M-12, M-13', () => {
    const causes = { pixelUm: 4.3, effectiveFNumber: 8, defocusDiscUm: 0, streakUm: 5, gaussianSigmaUm: 0 };
    expect(combinedMtf(causes, 50)).toBeCloseTo(0.601854, 6);
    const still = { pixelUm: 4.35, effectiveFNumber: 16, defocusDiscUm: 0, streakUm: 0, gaussianSigmaUm: 0 };
    expect(combinedMtf50PerMm(still)).toBeCloseTo(42.999, 3);
    expect(combinedMtf50PerMm({ ...still, streakUm: 10 })).toBeCloseTo(33.637, 3);
  });
});

describe('the variance budget', () => {
  it('OI M-15: quadrature', () => expect(combinedSigma([20, 10, 5])).toBeCloseTo(22.913, 3));

  it.each([
    ['pixel and diffraction', 6, 8, 0, 0],
    ['with a streak', 6, 8, 0, 15],
    ['with a disc', 6, 8, 20, 0],
    ['stopped down', 4, 22, 10, 5],
    ['disc and streak alike', 4, 8, 20, 15],
    ['motion rules', 4, 8, 0, 60],
    ['defocus rules', 4, 8, 80, 0],
  ])('agrees with the product of MTFs at half modulation within 14 %%: %s', (_, pixel, Ne, disc, streak) => {
    // Known difference: a lone uniform streak has its MTF50 where a Gaussian of 0.3106 L has it, not L/sqrt12 = 0.2887 L
    // (8 % more); a lone disc where 0.2658 d has it, not d/4 (6 % more). Mixed with others both lie nearer.
    const byVariance = combinedSigma([
      streakSigma(pixel),
      diffractionSigmaUm(Ne),
      discSigma(disc),
      streakSigma(streak),
    ]);
    const causes = {
      pixelUm: pixel,
      effectiveFNumber: Ne,
      defocusDiscUm: disc,
      streakUm: streak,
      gaussianSigmaUm: 0,
    };
    const ratio = gaussianOfMtf50Um(combinedMtf50PerMm(causes)) / byVariance;
    expect(ratio).toBeGreaterThan(0.97);
    expect(ratio).toBeLessThan(1.14);
  });
});

describe('delivery', () => {
  const frame = { sensorWidthMm: 36, sensorHeightMm: 24, widthPx: 6000, heightPx: 4000 };

  it('by hand: the default on 36 x 24 mm is enlarged 11.667 times; a pixel of 6 µm is coarser than the eye', () => {
    expect(enlargement(frame, DEFAULT_DELIVERY)).toBeCloseTo(11.667, 3);
    expect(pixelPitchUm(frame)).toBe(6);
    // 0.69 x 300 mm x tan 1' = 60.21 µm on the print.
    expect(limitUm({ ...frame, widthPx: 9000, heightPx: 6000 })).toBeCloseTo(60.214 / 11.6667, 2);
    expect(limitUm(frame)).toBe(6);
    expect(depthDiscMm(frame)).toBeCloseTo(0.024, 10);
  });

  it('does not care how the sheet is turned; a 4:3 frame that fills a 3:2 sheet goes by its long side', () => {
    expect(enlargement(frame, { widthMm: 280, heightMm: 420, viewingDistanceMm: 300 })).toBeCloseTo(
      11.667,
      3,
    );
    const four = { sensorWidthMm: 17.3, sensorHeightMm: 13, widthPx: 5184, heightPx: 3888 };
    expect(enlargement(four, DEFAULT_DELIVERY)).toBeCloseTo(420 / 17.3, 10);
  });
});
