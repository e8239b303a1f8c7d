import { describe, expect, it } from 'vitest';
import { fastEnough, withTap } from './taps.ts';

describe('taps in time with the swings', () => {
  it('are counted, a bouncing finger once, and begun anew after a pause', () => {
    const taps = [10, 10.02, 10.5, 11].reduce<readonly number[]>(withTap, []);
    expect(taps).toEqual([10, 10.5, 11]);
    expect(withTap(taps, 20)).toEqual([20]);
  });

  it('are never more than a minute or two of them', () => {
    let taps: readonly number[] = [];
    for (let i = 0; i < 500; i++) taps = withTap(taps, i / 2);
    expect(taps).toHaveLength(200);
    expect(taps.at(-1)).toBe(249.5);
  });
});

describe('the shutter that freezes', () => {
  it('is the slowest mark that is fast enough, or none', () => {
    expect(fastEnough([0.001, 0.002, 0.004], 0.003)).toBe(0.002);
    expect(fastEnough([0.001, 0.002, 0.004], 0.002)).toBe(0.002);
    expect(fastEnough([0.001, 0.002, 0.004], 0.0005)).toBeNull();
  });
});
