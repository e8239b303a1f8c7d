import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { quietMoment, timedShares, type Swing } from './quiet-moment.ts';
import { shareOfTimeSlower, sinusoidSpeeds } from './streak.ts';

const swing: Swing = {
  amplitudeMm: 5,
  frequencyHz: 1,
  magnification: 0.5,
  exposureTimeS: 1 / 250,
  limitUm: 6,
};

/** Sigma of the path within an exposure whose middle lies tau after the turn, sampled: the definition. */
function sampledSigmaUm(s: Swing, tau: number): number {
  const n = 2000;
  let sum = 0;
  let sum2 = 0;
  for (let i = 0; i < n; i++) {
    const t = tau + s.exposureTimeS * ((i + 0.5) / n - 0.5);
    // 1 - cos keeps the digits at the turn.
    const x = 2000 * s.magnification * s.amplitudeMm * Math.sin(Math.PI * s.frequencyHz * t) ** 2;
    sum += x;
    sum2 += x * x;
  }
  return Math.sqrt(Math.max(0, sum2 / n - (sum / n) ** 2));
}

describe('the quiet moment', () => {
  it('OI M-8 in the limit of a short exposure: the share of time below a speed', () => {
    // A speed of v blurs by m v T / sqrt12: the limit is set to that of 10 mm/s for the swing of M-7.
    const limitUm = (1000 * 1 * 10 * 1e-4) / Math.sqrt(12);
    const row: Swing = { amplitudeMm: 5, frequencyHz: 1.37, magnification: 1, exposureTimeS: 1e-4, limitUm };
    expect(quietMoment(row).shareOfTime).toBeCloseTo(0.14928, 4);
    expect(quietMoment(row).shareOfTime).toBeCloseTo(
      shareOfTimeSlower(10, sinusoidSpeeds(5, 1.37).peakMmS),
      4,
    );
  });

  it('known truth: at the ends of the window the sampled path blurs by the limit, inside by less', () => {
    const { windowS } = quietMoment(swing);
    expect(windowS).toBeGreaterThan(0.05);
    expect(sampledSigmaUm(swing, windowS / 2)).toBeCloseTo(swing.limitUm, 3);
    expect(sampledSigmaUm(swing, windowS / 4)).toBeLessThan(swing.limitUm);
    const { longestAtTurnS, longestMidSwingS } = quietMoment(swing);
    expect(sampledSigmaUm({ ...swing, exposureTimeS: longestAtTurnS }, 0)).toBeCloseTo(6, 3);
    expect(sampledSigmaUm({ ...swing, exposureTimeS: longestMidSwingS }, 0.25)).toBeCloseTo(6, 3);
  });

  it('common practice, no source: for equal time the head travels far less at the turn; the turn bears stops more', () => {
    // Practice says half as far; for short exposures it is much less: a (w T)^2/8 against a w T.
    expect(quietMoment(swing).gainStops).toBeGreaterThan(3);
  });

  it('no quiet moment where even the turn blurs too much; nothing but quiet where nothing does', () => {
    expect(quietMoment({ ...swing, exposureTimeS: 0.4, limitUm: 0.1 })).toMatchObject({
      windowS: 0,
      chanceTimed: 0,
    });
    expect(quietMoment({ ...swing, limitUm: 1e5 })).toMatchObject({
      shareOfTime: 1,
      chanceTimed: 1,
      windowS: 0.5,
    });
  });

  it('laws: timing never does worse than chance for a hand within a tenth of the swing, and a wild hand is chance', () => {
    const any = fc.record({
      amplitudeMm: fc.double({ min: 0.1, max: 40, noNaN: true }),
      frequencyHz: fc.double({ min: 0.3, max: 4, noNaN: true }),
      magnification: fc.double({ min: 0.05, max: 1.5, noNaN: true }),
      exposureTimeS: fc.double({ min: 1 / 4000, max: 1 / 30, noNaN: true }),
      limitUm: fc.double({ min: 2, max: 20, noNaN: true }),
    });
    fc.assert(
      fc.property(any, (s) => {
        const steady = quietMoment(s, 0.1 / s.frequencyHz);
        expect(steady.chanceTimed).toBeGreaterThanOrEqual(steady.shareOfTime - 1e-9);
        expect(steady.chanceTimed).toBeLessThanOrEqual(1);
        const wild = quietMoment(s, 3 / s.frequencyHz);
        expect(wild.chanceTimed).toBeCloseTo(wild.shareOfTime, 3);
      }),
      { seed: 31, numRuns: 300 },
    );
  });

  it('mean over the release error: 1 - exp(-2 (w s)^2), the mean of 2 sin^2 over a normal error', () => {
    const [F, spread] = [1.4, 0.05];
    let sum = 0;
    const n = 4000;
    for (let i = 0; i < n; i++) {
      const z = ((i + 0.5) / n) * 16 - 8;
      sum += 2 * Math.sin(2 * Math.PI * F * spread * z) ** 2 * Math.exp((-z * z) / 2) * (16 / n);
    }
    expect(timedShares(F, spread).odd).toBeCloseTo(sum / Math.sqrt(2 * Math.PI), 8);
    expect(timedShares(F, spread).even + timedShares(F, spread).odd).toBeCloseTo(2, 12);
  });
});
