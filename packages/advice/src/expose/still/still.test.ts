import { describe, expect, it } from 'vitest';
import { exposureAdvice } from '../exposure-advice.ts';
import { MEADOW_FLOWER } from '../fixtures/meadow-flower.ts';

const base = MEADOW_FLOWER;

describe('timing against waiting', () => {
  it('a watched swing: released at its end more frames are sharp, and there is no lull to wait for', () => {
    const { odds, timing, lull } = exposureAdvice({ ...base, sway: { amplitudeMm: 4, frequencyHz: 1.2 } });
    expect(timing?.sharp).toBeGreaterThan(odds.sharp);
    expect(timing?.better).toBe('timing');
    expect(timing?.secondsWaiting).toBeNull();
    expect(lull).toBeNull();
  });

  it('in wind both are told, in seconds to a sharp frame, and the quicker is named', () => {
    const { timing, lull, reasons } = exposureAdvice({ ...base, windMs: 0.7 });
    expect(lull?.sharp).toBeGreaterThan(0);
    expect(timing?.better).toBe(timing!.secondsWaiting! < timing!.secondsTimed ? 'waiting' : 'timing');
    expect(reasons.join(' ')).toMatch(/to a sharp one against/);
    expect(reasons.join(' ')).toMatch(/chosen for a lull/);
  });

  it('a plant that stands still has no swing to time', () => {
    expect(exposureAdvice({ ...base, windMs: 0 }).timing).toBeNull();
    expect(exposureAdvice({ ...base, sway: { amplitudeMm: 0, frequencyHz: 1 } }).timing).toBeNull();
  });
});

describe('bursts and series', () => {
  it('OI T-8 squared: frames 0.2 s apart of a body that forgets in 0.5 s, and more of them', () => {
    const { odds } = exposureAdvice({ ...base, windMs: 0, support: 'kneeling' });
    // In still air the stem's own memory is longer than the body's; a watched sway has only the body's.
    const watched = exposureAdvice({ ...base, sway: { amplitudeMm: 1, frequencyHz: 1 } });
    expect(watched.odds.burst?.correlation).toBeCloseTo(Math.exp(-0.4) ** 2, 10);
    expect(odds.burst!.frames!).toBeGreaterThanOrEqual(odds.framesFor95!);
  });

  it('a series beats one frame from a tripod in still air, and not by hand in a breeze', () => {
    const tripod = exposureAdvice({ ...base, windMs: 0, support: 'tripod' }).focusSeries!;
    expect(tripod.worthIt).toBe(true);
    const breeze = exposureAdvice({ ...base, windMs: 0.7 }).focusSeries!;
    expect(breeze.worthIt).toBe(false);
    expect(breeze.meanLullS).toBeGreaterThan(0);
  });
});

describe('what to change', () => {
  it('stands in order of gain, helps, and is nothing where a frame is good enough', () => {
    const poor = exposureAdvice({ ...base, windMs: 1, support: 'standing' });
    const sharps = poor.changes!.map(({ sharp }) => sharp);
    expect(sharps.length).toBeGreaterThan(1);
    expect(sharps).toEqual(sharps.toSorted((a, b) => b - a));
    expect(Math.min(...sharps)).toBeGreaterThan(poor.odds.sharp);
    expect(poor.changes!.map(({ change }) => change).join(' ')).toContain('Shield');
    expect(exposureAdvice({ ...base, windMs: 0, support: 'tripod' }).changes).toEqual([]);
  });
});
