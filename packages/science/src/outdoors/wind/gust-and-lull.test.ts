import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  gustFactor,
  peakFactorDavenport1964,
  turbulenceIntensityOverGround,
  weibullOfMean,
  weibullShareBelow,
} from './gust.ts';
import { lullOutlastsExponential, lullOutlastsRayleigh, lullsBelow, standardNormalQuantile } from './lull.ts';

/** Uniform numbers from a seed. Mulberry32, public domain. */
function dice(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * A Gaussian process at 10 Hz with spectrum exp[-f^2 / (2 0.1^2)], for which nu0 is 0.1 Hz: 200 waves with
 * frequencies drawn from that spectrum and random phases. Lengths [s] of its spells below and above a level.
 */
function simulateSpells(
  level: number,
  seed: number,
  runs: number,
): { lulls: number[]; gaps: number[]; totalS: number } {
  const uniform = dice(seed);
  const lulls: number[] = [];
  const gaps: number[] = [];
  const samples = 10_000;
  for (let run = 0; run < runs; run++) {
    const signal = new Float64Array(samples);
    for (let wave = 0; wave < 200; wave++) {
      const normal = Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
      const step = (2 * Math.PI * 0.1 * normal) / 10;
      const [c, s] = [Math.cos(step), Math.sin(step)];
      const phase = 2 * Math.PI * uniform();
      let [re, im] = [Math.cos(phase), Math.sin(phase)];
      for (let i = 0; i < samples; i++) {
        signal[i]! += re * Math.sqrt(2 / 200);
        [re, im] = [re * c - im * s, re * s + im * c];
      }
    }
    let start = -1;
    for (let i = 1; i < samples; i++) {
      const below = signal[i]! < level;
      if (below === signal[i - 1]! < level) continue;
      if (start >= 0) (below ? gaps : lulls).push((i - start) / 10);
      start = i;
    }
  }
  return { lulls, gaps, totalS: (runs * samples) / 10 };
}

const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const come = (found: ReturnType<typeof lullsBelow>) => {
  if (found.kind !== 'comeAndGo') throw new Error(found.kind);
  return found;
};
const P = { '-1': 0.158655253931457, '-1.645': 0.0499849055391, '0': 0.5 };

describe('gusts', () => {
  it('has the peak factors of FS W-22 (sanity only)', () => {
    expect(peakFactorDavenport1964(60)).toBeCloseTo(3.0633, 4);
    expect(peakFactorDavenport1964(360)).toBeCloseTo(3.5993, 4);
  });

  it('has the gust factor of FS W-23 (sanity only)', () => {
    expect(gustFactor(turbulenceIntensityOverGround(10, 0.03), 3.06)).toBeCloseTo(1.527, 3);
  });

  // FS W-4: Iv(10); the code's cr is a design value for towns and masts and is not computed here.
  it.each([
    [0.003, 0.1233],
    [0.01, 0.1448],
    [0.05, 0.1887],
    [0.3, 0.2852],
    [1, 0.4343],
  ])('turbulence at 10 m over z0 %f (FS W-4, Iv; sanity only)', (z0, expected) => {
    expect(turbulenceIntensityOverGround(10, z0)).toBeCloseTo(expected, 4);
  });

  it.each([
    [1.5, 2.2155, 0.2616, 0.1017],
    [2, 2.2568, 0.1783, 0.0479],
    [2.5, 2.2541, 0.1229, 0.0229],
  ])('Weibull of mean 2 and shape %f (FS W-24; sanity only)', (shape, scale, below1, belowHalf) => {
    const speeds = weibullOfMean(2, shape);
    expect(speeds.scaleMs).toBeCloseTo(scale, 4);
    expect(weibullShareBelow(speeds, 1)).toBeCloseTo(below1, 4);
    expect(weibullShareBelow(speeds, 0.5)).toBeCloseTo(belowHalf, 4);
  });
});

describe('lulls', () => {
  it('at z = -1, by formula (FS W-25)', () => {
    const lulls = come(lullsBelow(P['-1'], 0.1));
    expect(lulls.rateHz).toBeCloseTo(0.06065, 5);
    expect(lulls.meanLengthS).toBeCloseTo(2.616, 3);
    expect(lulls.betweenStartsS).toBeCloseTo(16.49, 2);
  });

  it('at z = -1.645 and 0 (FS W-26)', () => {
    expect(come(lullsBelow(P['-1.645'], 0.1)).rateHz).toBeCloseTo(0.02585, 5);
    expect(come(lullsBelow(P['-1.645'], 0.1)).meanLengthS).toBeCloseTo(1.934, 3);
    expect(come(lullsBelow(P['0'], 0.1)).rateHz).toBeCloseTo(0.1, 9);
    expect(come(lullsBelow(P['0'], 0.1)).meanLengthS).toBeCloseTo(5, 9);
  });

  it('for Weibull speeds, by translation (FS W-28; sanity only)', () => {
    const share = weibullShareBelow(weibullOfMean(2, 2), 1);
    expect(share).toBeCloseTo(1 - Math.exp(-Math.PI / 16), 12); // closed form; the reference prints 0.17827
    expect(standardNormalQuantile(share)).toBeCloseTo(-0.922, 4);
    const lulls = come(lullsBelow(share, 0.1));
    expect(lulls.rateHz).toBeCloseTo(0.06538, 5);
    expect(lulls.meanLengthS).toBeCloseTo(2.727, 3);
    expect(lulls.betweenStartsS).toBeCloseTo(15.3, 2);
  });

  // 20,000 s hold about 1,200 lulls: 3 % of chance in a mean, hence 6 %.
  it('agrees with a simulated wind (FS W-25, W-27), and so does the wait, on the long side', () => {
    const { lulls, gaps, totalS } = simulateSpells(-1, 7, 20);
    const model = come(lullsBelow(P['-1'], 0.1));
    expect(Math.abs(lulls.length / totalS / model.rateHz - 1)).toBeLessThan(0.06);
    expect(Math.abs(mean(lulls) / model.meanLengthS - 1)).toBeLessThan(0.06);
    const m = mean(lulls);
    const outlasting = (t: number) => lulls.filter((length) => length > t).length / lulls.length;
    expect(Math.abs(outlasting(m) - 0.391)).toBeLessThan(0.04);
    expect(Math.abs(outlasting(2 * m) - 0.072)).toBeLessThan(0.02);
    const waitS = gaps.reduce((sum, gap) => sum + (gap * gap) / 2, 0) / totalS;
    expect(waitS / model.expectedWaitS).toBeGreaterThan(0.64);
    expect(waitS / model.expectedWaitS).toBeLessThan(1.05);
  });

  it('lasts by two laws that bracket the real one (FS W-27)', () => {
    expect(lullOutlastsRayleigh(1, 1)).toBeCloseTo(0.456, 3);
    expect(lullOutlastsRayleigh(2, 1)).toBeCloseTo(0.043, 3);
    expect(lullOutlastsExponential(1, 1)).toBeCloseTo(0.368, 3);
    expect(lullOutlastsExponential(2, 1)).toBeCloseTo(0.135, 3);
  });

  it('names always and never, and is finite between, the wait falling as calm grows', () => {
    expect(lullsBelow(0, 0.1)).toEqual({ kind: 'neverCalm' });
    expect(lullsBelow(1, 0.1)).toEqual({ kind: 'alwaysCalm' });
    const share = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
    fc.assert(
      fc.property(share, share, (one, other) => {
        const [low, high] = [Math.min(one, other), Math.max(one, other)];
        const [rare, often] = [come(lullsBelow(low, 0.2)), come(lullsBelow(high, 0.2))];
        expect(Number.isFinite(rare.expectedWaitS)).toBe(true);
        expect(often.expectedWaitS).toBeLessThanOrEqual(rare.expectedWaitS * (1 + 1e-6));
        expect(often.meanLengthS).toBeGreaterThanOrEqual(rare.meanLengthS * (1 - 1e-6));
      }),
      { seed: 8, numRuns: 300 },
    );
  });

  // Normal quantiles of any table.
  it.each([
    [0.975, 1.959964],
    [0.5, 0],
    [0.001, -3.090232],
  ])('Phi^-1(%f) is %f', (p, z) => {
    expect(standardNormalQuantile(p)).toBeCloseTo(z, 6);
  });
});
