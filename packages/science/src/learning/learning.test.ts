import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalDistribution } from '../camera/frames/normal.ts';
import {
  blurExcess,
  chanceBlurAbove,
  chanceSingleMadeMore,
  chanceSubjectMadeMore,
  logChanceOfBlur,
} from './blur-of-a-frame.ts';
import { departedShares, logChanceOfFrame, type NominalFrame } from './frame-evidence.ts';
import { gaussianPosterior, type EvidenceTerm } from './gaussian-posterior.ts';
import { normalPoints } from './normal-points.ts';
import { choleskyOf, inverseOfCholesky, solveCholesky } from './positive-definite.ts';

const seed = 20261125;
const still = { camera: 0, cameraEven: 0, subject: 0, subjectEven: 0 };

describe('the blur of a frame', () => {
  it('follows the chi-square law of one variable where placement alone blurs', () => {
    // P(F + w Z^2 > L) = 2 Phi(-sqrt((L - F)/w)), to a hundredth and a half: the law is kept in steps of 0.2 in its log.
    const shares = { floor: 0.5, placement: 2, ...still };
    for (const limit of [1, 2, 4, 8]) {
      const expected = 2 * normalDistribution(-Math.sqrt((limit - 0.5) / 2));
      const found = chanceBlurAbove(0.5 * Math.log(limit), 0.02, 0.5, blurExcess(shares));
      expect(Math.abs(found - expected)).toBeLessThan(0.015);
    }
  });

  it('follows the exponential law where a hand-held camera alone blurs', () => {
    const shares = { ...still, floor: 0.5, placement: 0, camera: 3 };
    for (const limit of [1, 2, 4, 8]) {
      const expected = Math.exp(-(limit - 0.5) / 3);
      const found = chanceBlurAbove(0.5 * Math.log(limit), 0.02, 0.5, blurExcess(shares));
      expect(Math.abs(found - expected)).toBeLessThan(0.015);
    }
  });

  it('has a density that is whole, whatever blurs', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        fc.double({ min: 0.06, max: 0.4, noNaN: true }),
        (placement, camera, subject, spread) => {
          const excess = blurExcess({ ...still, floor: 0.6, placement, camera, subject });
          let whole = 0;
          for (let y = -3; y < 6; y += 0.02)
            whole += 0.02 * Math.exp(logChanceOfBlur(y, spread, 0.6, excess));
          // The error's law is made wider beyond three deviations, which adds a hundredth at most.
          expect(whole).toBeGreaterThan(0.985);
          expect(whole).toBeLessThan(1.02);
        },
      ),
      { seed, numRuns: 40 },
    );
  });

  it('is likelier above a limit the more there is of any part', () => {
    const part = fc.double({ min: 0.01, max: 30, noNaN: true });
    fc.assert(
      fc.property(part, part, part, fc.double({ min: 1.1, max: 3, noNaN: true }), (p, c, s, more) => {
        const at = (k: number) =>
          chanceBlurAbove(
            0.4,
            0.1,
            0.6,
            blurExcess({ ...still, floor: 0.6, placement: k * p, camera: k * c, subject: k * s }),
          );
        expect(at(more)).toBeGreaterThanOrEqual(at(1) - 1e-6);
      }),
      { seed, numRuns: 60 },
    );
  });
});

describe('what made the blur', () => {
  it('is as likely the single variable as its share of the halves where both laws fall alike', () => {
    // With 1/(2 s) = 1/p the ratio of the integrals of u^(-1/2) is 1 - sqrt(1/2).
    expect(chanceSingleMadeMore(3, 1, 2, 0)).toBeCloseTo(1 - Math.SQRT1_2, 6);
    // Two single ones that are alike.
    expect(chanceSingleMadeMore(3, 2, 2, 1)).toBeCloseTo(0.5, 6);
  });

  it('is told evenly between a subject and a camera that are alike on the axis', () => {
    expect(chanceSubjectMadeMore(4, 1, 2)).toBeCloseTo(0.5, 12);
    expect(chanceSubjectMadeMore(4, 0, 2)).toBe(0);
    expect(chanceSubjectMadeMore(4, 1, 0)).toBe(1);
  });

  it('is likelier a part the more there is of it', () => {
    const part = fc.double({ min: 0.01, max: 30, noNaN: true });
    fc.assert(
      fc.property(part, part, part, (x, s, p) => {
        expect(chanceSingleMadeMore(x, 2 * s, p, 0.5)).toBeGreaterThanOrEqual(
          chanceSingleMadeMore(x, s, p, 0.5) - 1e-9,
        );
        expect(chanceSubjectMadeMore(x, 2 * s, p)).toBeGreaterThanOrEqual(
          chanceSubjectMadeMore(x, s, p) - 1e-9,
        );
      }),
      { seed, numRuns: 200 },
    );
  });

  it('raises the chance of hands that shake when the camera seems to have moved', () => {
    const nominal: NominalFrame = {
      ...{ floor: 0.6, placement: 2, camera: 2, cameraEven: 0, subject: 2, subjectEven: 0 },
      placementBySubject: 0.1,
      subjectAgainstWind: [-4, 0, 4],
    };
    const by = { floor: 0, placement: 0, camera: 0, subject: 0, wind: 0 };
    const gain = (madeBy: 'camera' | 'subject' | 'placement') => {
      const measured = { logSigma: 1, spread: 0.1, madeBy, trust: 0.9 };
      return (
        logChanceOfFrame(measured, nominal, { ...by, camera: 0.4 }) - logChanceOfFrame(measured, nominal, by)
      );
    };
    expect(gain('camera')).toBeGreaterThan(gain('subject'));
    expect(gain('camera')).toBeGreaterThan(gain('placement'));
    expect(departedShares(nominal, { ...by, wind: 1 }).subject).toBeCloseTo(2 * Math.exp(4), 9);
    expect(departedShares(nominal, { ...by, wind: 2 }).subject).toBeCloseTo(2 * Math.exp(8), 9);
  });
});

describe('a normal posterior', () => {
  const seen = (readings: readonly number[], found: number, spread: number): EvidenceTerm => ({
    readings: [readings],
    logChance: ([x = 0]) => -0.5 * ((found - x) / spread) ** 2,
  });

  it('is the prior where there is no evidence', () => {
    const priors = [
      { mean: 1, spread: 2 },
      { mean: -1, spread: 0.5 },
    ];
    const { mode, covariance } = gaussianPosterior(priors, []);
    expect(mode).toEqual([1, -1]);
    expect(covariance[0]![0]).toBeCloseTo(4, 12);
    expect(covariance[1]![1]).toBeCloseTo(0.25, 12);
    expect(covariance[0]![1]).toBeCloseTo(0, 12);
  });

  it('weighs prior and evidence by their precisions, also of a sum of parameters', () => {
    // Theory: y = a + b, a ~ N(0, 1), b ~ N(0, 4), error 1: mean of a = y/6, of b = 4 y/6; var a = 1 - 1/6, cov = -4/6.
    const priors = [
      { mean: 0, spread: 1 },
      { mean: 0, spread: 2 },
    ];
    const { mode, covariance } = gaussianPosterior(priors, [[{ logWeight: 0, terms: [seen([0, 1], 3, 1)] }]]);
    expect(mode[0]).toBeCloseTo(0.5, 2);
    expect(mode[1]).toBeCloseTo(2, 2);
    expect(covariance[0]![0]).toBeCloseTo(5 / 6, 5);
    expect(covariance[0]![1]).toBeCloseTo(-4 / 6, 5);
  });

  it('is wider where one of two readings of the evidence is true and nobody knows which', () => {
    const priors = [{ mean: 0, spread: 1 }];
    const one = gaussianPosterior(priors, [[{ logWeight: 0, terms: [seen([0], 0.2, 0.5)] }]]);
    const either = gaussianPosterior(priors, [
      [
        { logWeight: Math.log(0.5), terms: [seen([0], -0.2, 0.5)] },
        { logWeight: Math.log(0.5), terms: [seen([0], 0.6, 0.5)] },
      ],
    ]);
    expect(either.covariance[0]![0]!).toBeGreaterThan(one.covariance[0]![0]!);
  });
});

describe('normal points', () => {
  it('have the mean and the covariance asked for', () => {
    const covariance = [
      [1, 0.5],
      [0.5, 2],
    ];
    const points = normalPoints([3, -1], covariance, 2000);
    const mean = [0, 1].map((i) => points.reduce((sum, p) => sum + p[i]!, 0) / points.length);
    expect(mean[0]).toBeCloseTo(3, 1);
    expect(mean[1]).toBeCloseTo(-1, 1);
    const cross = points.reduce((sum, p) => sum + (p[0]! - mean[0]!) * (p[1]! - mean[1]!), 0) / points.length;
    expect(cross).toBeCloseTo(0.5, 1);
  });
});

describe('small matrices', () => {
  it('are solved and inverted', () => {
    const A = [
      [4, 2],
      [2, 3],
    ];
    const L = choleskyOf(A)!;
    solveCholesky(L, [8, 7]).forEach((x, i) => expect(x).toBeCloseTo([1.25, 1.5][i]!, 12));
    expect(inverseOfCholesky(L)[0]![0]).toBeCloseTo(3 / 8, 12);
    expect(choleskyOf([[-1]])).toBeNull();
  });
});
