import { describe, expect, it } from 'vitest';
import { RING_EDGES, RINGS, roundLogs, ROUND_SIGMAS, streakLogs, STREAK_LENGTHS } from './blur-shapes.ts';
import { searchBlur } from './blur-search.ts';
import { sceneLikelihood } from './scene-spectrum.ts';
import { SECTORS, spectrumBins } from './spectrum-bins.ts';

const { count } = spectrumBins(512, RING_EDGES);
const middle = (ring: number) => Math.sqrt(RING_EDGES[ring]! * RING_EDGES[ring + 1]!);

/** A scene that follows the law of scenes exactly, blurred: power by cell. */
function scene(slope: number, logBlur: (sector: number, ring: number) => number) {
  const power = Float64Array.from({ length: SECTORS * RINGS }, (_, cell) => {
    const ring = cell % RINGS;
    const lawful = 1e5 * (middle(ring) / 0.01) ** slope;
    return lawful * Math.exp(logBlur(Math.floor(cell / RINGS), ring)) + 1;
  });
  return { power, count, side: 512, windowPx: 384 };
}

describe('the likelihood of a scene', () => {
  it.each([-2.1, -2.4, -2.7])('finds the round blur again, whatever the slope (%f)', (slope) => {
    for (const at of [8, 14, 20, 26]) {
      for (const shape of ['gaussian', 'disc'] as const) {
        const logs = roundLogs(shape, at)!;
        const likelihood = sceneLikelihood(
          scene(slope, (_, ring) => logs[ring]!),
          1,
        )!;
        const found = searchBlur(likelihood);
        expect(Math.abs(Math.log(found.round.roundSigmaPx / ROUND_SIGMAS[at]!))).toBeLessThan(0.2);
        expect(found.moved.logLikelihood - found.round.logLikelihood).toBeLessThan(14);
      }
    }
  });

  it('finds a streak and its direction, counter-clockwise as seen', () => {
    // Sector 2 of 12 points 30° below the x axis as seen, so the streak runs at 150°.
    const [length, direction] = [15, 4];
    const likelihood = sceneLikelihood(
      scene(-2.4, (sector, ring) => {
        const apart = Math.abs(2 * sector - direction) % 24;
        return roundLogs('gaussian', 6)![ring]! + streakLogs(length, Math.min(apart, 24 - apart))[ring]!;
      }),
      1,
    )!;
    const { round, moved } = searchBlur(likelihood);
    expect(moved.logLikelihood - round.logLikelihood).toBeGreaterThan(14);
    expect(moved.directionDeg).toBeCloseTo(150, 0);
    expect(moved.streakPx / STREAK_LENGTHS[length]!).toBeCloseTo(1, 1);
  });

  it('is not taken in by noise that the camera has smoothed', () => {
    // A tail as steep as a sharp scene's, but beyond a fall that only blur makes.
    const logs = roundLogs('gaussian', 24)!;
    const blurred = scene(-2.4, (_, ring) => logs[ring]!);
    const grain = (ring: number) => 0.7 * (middle(ring) / 0.2) ** -2.4;
    const power = blurred.power.map((value, cell) => value + grain(cell % RINGS));
    const { round } = searchBlur(sceneLikelihood({ ...blurred, power }, 1)!);
    expect(Math.abs(Math.log(round.roundSigmaPx / ROUND_SIGMAS[24]!))).toBeLessThan(0.3);
  });

  it('says nothing where nothing rises above the noise', () => {
    const flat = { power: new Float64Array(SECTORS * RINGS).fill(4), count, side: 512, windowPx: 384 };
    expect(sceneLikelihood(flat, 2)).toBeNull();
  });
});

describe('bins of a spectrum', () => {
  it('hold each sample of the half plane once', () => {
    const whole = spectrumBins(64, [0.001, 0.49]);
    const inside = whole.cellOf.filter((cell) => cell >= 0).length;
    expect(whole.count.reduce((sum, value) => sum + value, 0)).toBe(inside);
    // Half the disc of radius 0.49 x 64, to a row of samples.
    expect(Math.abs(inside - (Math.PI * (0.49 * 64) ** 2) / 2)).toBeLessThan(64);
  });
});
