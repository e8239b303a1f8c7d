import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalDistribution } from '../frames/normal.ts';
import { imageSpeeds, stabilisedRotationFactor, SUPPORT_MOTION, SUPPORTS } from './hands.ts';
import {
  imageTravelPerRadianMm,
  longestTimeForBlur,
  shareOfTimeSlower,
  sinusoidSpeeds,
  stabilisationStops,
} from './streak.ts';
import { dragN, oscillatorOfStem, staticBendMm, STEM_CLASSES, STEMS } from './stem.ts';
import { swayCorrelation, swayInWind, swaySpectrum, swayVarianceWithin } from './sway.ts';
import { meanVarianceShare, withinExposure } from './within-exposure.ts';

const lens = (f: number, m: number) => ({ focalLengthMm: f, magnification: m, pupilMagnification: 1 });
const still = { rotationRadS: 0, pivotBehindPupilMm: 0, cameraSpeedMmS: 0, subjectSpeedMmS: 0 };

describe('streaks', () => {
  it('OI M-1, M-2: a wandering box and the reciprocal rule name one angular speed', () => {
    const radius = Math.atan(1.5 / (30 * 12));
    expect((radius * 180) / Math.PI).toBeCloseTo(0.2387, 3);
    expect(radius * 2 * 8).toBeCloseTo(0.0667, 4);
    expect(0.063 / (50 * (1 / 50))).toBeCloseTo(0.063, 12);
  });

  it('OI M-3: the longest time at life size', () => {
    const rates = { ...still, rotationRadS: 0.063 };
    expect(longestTimeForBlur(lens(100, 0), rates, 0.063)).toEqual({
      kind: 'time',
      seconds: expect.closeTo(1 / 100, 12),
    });
    expect(longestTimeForBlur(lens(100, 1), rates, 0.063)).toEqual({
      kind: 'time',
      seconds: expect.closeTo(1 / 200, 12),
    });
    expect(longestTimeForBlur(lens(100, 1), { ...rates, pivotBehindPupilMm: 150 }, 0.063)).toEqual({
      kind: 'time',
      seconds: expect.closeTo(1 / 350, 12),
    });
    expect(longestTimeForBlur(lens(100, 1), still, 0.063)).toEqual({ kind: 'unlimited' });
  });

  it('OI M-4, M-5, M-6', () => {
    const rotation = (1000 * 0.063 * imageTravelPerRadianMm(lens(100, 1), 0)) / 200;
    expect(rotation).toBeCloseTo(63, 1);
    expect(Math.hypot(rotation, 25)).toBeCloseTo(67.8, 1);
    const subject = { ...still, subjectSpeedMmS: 20 };
    expect(longestTimeForBlur(lens(100, 1), subject, 0.08)).toEqual({
      kind: 'time',
      seconds: expect.closeTo(1 / 250, 12),
    });
    expect(stabilisationStops(1 / 8, 1 / 125)).toBeCloseTo(3.966, 3);
  });

  it('OI M-7, M-8: the quiet moment', () => {
    const { peakMmS, rmsMmS, meanMmS } = sinusoidSpeeds(5, 1.37);
    expect([peakMmS, rmsMmS, meanMmS].map((x) => Number(x.toFixed(3)))).toEqual([43.04, 30.434, 27.4]);
    [0.07412, 0.14928, 0.30767].forEach((share, i) => {
      expect(shareOfTimeSlower([5, 10, 20][i]!, peakMmS)).toBeCloseTo(share, 5);
    });
  });
});

describe('within an exposure', () => {
  it('is velocity times time over sqrt12 when short, and all of the motion when long', () => {
    const F = 1.3;
    expect(meanVarianceShare(F, 0.001) / ((2 * Math.PI * F * 0.001) ** 2 / 12)).toBeCloseTo(1, 4);
    expect(meanVarianceShare(F, 400.3)).toBeCloseTo(1, 5);
  });

  it('known truth: sampled paths have the shares that the closed form gives', () => {
    for (const x of [0.003, 0.0199, 0.0201, 0.1, 0.5, 0.9, 2.3]) {
      for (const part of ['odd', 'even'] as const) {
        const n = 20_000;
        let sum = 0;
        let sum2 = 0;
        for (let i = 0; i < n; i++) {
          const t = (i + 0.5) / n - 0.5;
          const p = 2 * Math.PI * x * t;
          // 1 - cos, not cos: the same variance without losing digits.
          const y = part === 'odd' ? Math.sin(p) : 2 * Math.sin(p / 2) ** 2;
          sum += y;
          sum2 += y * y;
        }
        const variance = sum2 / n - (sum / n) ** 2;
        expect(withinExposure(x, 1)[part] / variance).toBeCloseTo(1, 3);
      }
    }
  });
});

describe('sway', () => {
  it('FS P-1, P-2: the worked stem', () => {
    const o = oscillatorOfStem(STEMS.medium);
    expect(o.secondMomentM4 / 7.854e-13).toBeCloseTo(1, 4);
    expect(o.stiffnessNM).toBeCloseTo(0.036816, 6);
    expect(o.naturalFrequencyHz).toBeCloseTo(1.0822, 4);
    const bare = oscillatorOfStem({ ...STEMS.medium, headMassKg: 0 });
    expect(bare.naturalFrequencyHz).toBeCloseTo(1.7744, 3);
    expect(bare.naturalFrequencyHz / 1.7487 - 1).toBeCloseTo(0.015, 3);
  });

  it('FS P-3, P-4: drag and bend', () => {
    [0.0382, 0.106, 0.4241].forEach((mN, i) => {
      expect(1000 * dragN(STEMS.medium, [0.3, 0.5, 1][i]!)).toBeCloseTo(mN, 4);
    });
    [1.037, 2.88, 11.52].forEach((mm, i) => {
      expect(staticBendMm(STEMS.medium, [0.3, 0.5, 1][i]!)).toBeCloseTo(mm, 2);
    });
    expect(staticBendMm({ ...STEMS.medium, vogelExponent: 0 }, 2)).toBeCloseTo(46.08, 1);
    expect(staticBendMm(STEMS.medium, 2)).toBeCloseTo(28.37, 1);
  });

  it('FS P-5: spread of displacement and velocity, within its 2 %', () => {
    const rows = [
      [0.25, 0.834, 3.21, 0.1196],
      [0.5, 3.441, 14.8, 0.1392],
      [1, 13.68, 63.8, 0.1783],
    ] as const;
    for (const [U, sx, sv, zeta] of rows) {
      const sway = swayInWind(STEMS.medium, U);
      expect(Math.abs(sway.displacementMm / sx - 1)).toBeLessThan(0.02);
      expect(Math.abs(sway.speedMmS / sv - 1)).toBeLessThan(0.02);
      expect(sway.damping).toBeCloseTo(zeta, 3);
    }
  });

  it('FS P-6: the speed worth one pixel, and the share of time below it', () => {
    const longest = { ...still, subjectSpeedMmS: 1.6 };
    expect(longestTimeForBlur(lens(100, 0.5), longest, 0.004)).toEqual({
      kind: 'time',
      seconds: expect.closeTo(1 / 200, 12),
    });
    expect(2 * normalDistribution(1.6 / 20) - 1).toBeCloseTo(0.0638, 4);
  });

  it('blurs an exposure of any length as its autocorrelation says', () => {
    const spectrum = swaySpectrum(STEMS.medium, 0.5);
    const { displacementMm: sx, speedMmS: sv } = swayInWind(STEMS.medium, 0.5);
    for (const T of [0.01, 0.1, 0.4, 1.5]) {
      // The definition: (2/T^2) integral of (T - s) [R(0) - R(s)] over the exposure, midpoint rule.
      const n = 400;
      let sum = 0;
      for (let i = 0; i < n; i++) {
        const s = (T * (i + 0.5)) / n;
        sum += (T - s) * sx ** 2 * (1 - swayCorrelation(spectrum, s)) * (T / n);
      }
      expect(swayVarianceWithin(spectrum, T) / ((2 / T ** 2) * sum)).toBeCloseTo(1, 3);
    }
    expect(swayVarianceWithin(spectrum, 1e-3) / ((sv * 1e-3) ** 2 / 12)).toBeCloseTo(1, 3);
    expect(swayVarianceWithin(spectrum, 1e4) / sx ** 2).toBeCloseTo(1, 3);
    expect(swayVarianceWithin(swaySpectrum(STEMS.medium, 0), 1)).toBe(0);
  });

  it('one frequency for the spectrum: the same up to 1/30 s, then too much, most for stiff stems', () => {
    // Share of the variance by which a single frequency is too large; for flowers' stems in 0.1 to 3 m/s.
    const worst = (T: number): number =>
      Math.max(
        ...STEM_CLASSES.flatMap((stem) =>
          [0.1, 0.3, 1, 3].map((U) => {
            const { displacementMm, frequencyHz } = swayInWind(STEMS[stem], U);
            const alone = displacementMm ** 2 * meanVarianceShare(frequencyHz, T);
            return alone / swayVarianceWithin(swaySpectrum(STEMS[stem], U), T) - 1;
          }),
        ),
      );
    expect(worst(1 / 250)).toBeLessThan(0.001);
    expect(worst(1 / 30)).toBeLessThan(0.02);
    expect(worst(1 / 8)).toBeGreaterThan(0.2);
    expect(worst(1 / 2)).toBeGreaterThan(3);
  });

  it('law: less wind, less sway and slower; still air, none', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...STEM_CLASSES),
        fc.double({ min: 0, max: 15, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (name, U, share) => {
          const strong = swayInWind(STEMS[name], U);
          const weak = swayInWind(STEMS[name], U * share);
          expect(weak.displacementMm).toBeLessThanOrEqual(strong.displacementMm * (1 + 1e-9));
          expect(weak.speedMmS).toBeLessThanOrEqual(strong.speedMmS * (1 + 1e-9));
        },
      ),
      { seed: 4, numRuns: 300 },
    );
    expect(swayInWind(STEMS.wand, 0).speedMmS).toBe(0);
  });
});

describe('hands', () => {
  it('steadier supports move less in every part', () => {
    const ordered = SUPPORTS.map((support) => SUPPORT_MOTION[support]);
    for (let i = 1; i < ordered.length; i++) {
      expect(ordered[i]!.rotationRadS).toBeGreaterThan(ordered[i - 1]!.rotationRadS);
      expect(ordered[i]!.translationMmS).toBeGreaterThan(ordered[i - 1]!.translationMmS);
      expect(ordered[i]!.foreAndAftMm).toBeGreaterThan(ordered[i - 1]!.foreAndAftMm);
    }
  });

  it('standing, nine in ten frames at 1/f pass the 63 µm of ISO 20954-1 (the anchor we chose)', () => {
    const { rotationMmS } = imageSpeeds(lens(50, 0), SUPPORT_MOTION.standing);
    // Two normal axes: the squared streak is exponential about its mean.
    expect(1 - Math.exp(-((0.063 / (rotationMmS / 50)) ** 2))).toBeCloseTo(0.9, 6);
  });

  it('common practice, no source: a stabiliser helps less the closer one goes', () => {
    expect(stabilisedRotationFactor(4, 0)).toBe(1 / 16);
    expect(stabilisedRotationFactor(4, 1)).toBe(1 / 4);
  });
});
