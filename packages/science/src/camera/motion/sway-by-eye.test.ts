import { describe, expect, it } from 'vitest';
import { DomainError } from '../../domain-error.ts';
import { freezingTimeS, swayByEye, type WatchedSway } from './sway-by-eye.ts';

const watched = (tapsS: readonly number[]): WatchedSway => ({
  tapsS,
  tapped: 'eachSwing',
  travelHeadWidths: 0.5,
  headWidthMm: 30,
});

describe('sway by eye', () => {
  it('known truth: even taps give their frequency exactly, and the travel half of itself', () => {
    const sway = swayByEye(watched([0, 0.8, 1.6, 2.4, 3.2]));
    expect(sway.frequencyHz).toBeCloseTo(1.25, 12);
    expect(sway.frequencyRangeHz[1] - sway.frequencyRangeHz[0]).toBeLessThan(1e-6);
    expect(sway.amplitudeMm).toBe(7.5);
    // Mean of Rayleigh's law: sigma sqrt(pi/2).
    expect(sway.displacementMm * Math.sqrt(Math.PI / 2)).toBeCloseTo(7.5, 12);
    expect(sway.speedMmS).toBeCloseTo(2 * Math.PI * 1.25 * sway.displacementMm, 12);
  });

  it('a tap at either end is half a swing, and a missed tap is no slower swing', () => {
    expect(swayByEye({ ...watched([0, 0.4, 0.8, 1.2]), tapped: 'eachEnd' }).frequencyHz).toBeCloseTo(
      1.25,
      12,
    );
    expect(swayByEye(watched([0, 0.8, 2.4, 3.2, 4])).frequencyHz).toBeCloseTo(1.25, 12);
  });

  it('unsteady taps: the interval covers the truth in nine of ten runs', () => {
    // Tap errors from a fixed table of normal deviates, 30 ms each; 8 taps a run. Seeded below (mulberry32).
    let a = 5;
    const uniform = (): number => {
      a = (a + 0x6d2b79f5) | 0;
      let t = Math.imul(a ^ (a >>> 15), 1 | a);
      t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
      return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    };
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
    let covered = 0;
    const RUNS = 400;
    for (let run = 0; run < RUNS; run++) {
      const taps = Array.from({ length: 8 }, (_, i) => i / 1.4 + 0.03 * normal());
      const [low, high] = swayByEye(watched(taps)).frequencyRangeHz;
      if (low <= 1.4 && high >= 1.4) covered++;
    }
    // Student's t with 6 degrees of freedom at 1.645: 0.849 (from memory), and three standard errors either way.
    expect(covered / RUNS).toBeGreaterThan(0.8);
  });

  it('OI M-7: the shutter that freezes a 5 mm swing at 1.37 Hz is limit sqrt12 over its peak speed', () => {
    // 43.040 mm/s at m 1; 6 µm sigma is a streak of 20.8 µm.
    expect(freezingTimeS({ amplitudeMm: 5, frequencyHz: 1.37 }, 1, 6)).toBeCloseTo(
      (0.006 * Math.sqrt(12)) / 43.04,
      8,
    );
    expect(freezingTimeS({ amplitudeMm: 0.001, frequencyHz: 1 }, 0.1, 6)).toBe(0.5);
  });

  it.each([
    ['two taps', [0, 1]],
    ['taps that go back', [0, 1, 0.5, 2]],
    ['a tap that is no number', [0, NaN, 2]],
  ])('refuses %s', (_, taps) => {
    expect(() => swayByEye(watched(taps))).toThrow(DomainError);
  });
});
