import { describe, expect, it } from 'vitest';
import { adviseFallback, type FallbackFrame } from './fallback.ts';

const frame = (index: number, share: number, rmsPx = 0.3): FallbackFrame => ({
  index,
  used: true,
  rmsPx,
  share,
});
const out = (index: number): FallbackFrame => ({ index, used: false, rmsPx: null, share: 0 });

describe('the fallback', () => {
  it('is none for a series that lies well', () => {
    expect(adviseFallback([frame(0, 0.3), frame(1, 0.4), frame(2, 0.3)], 7000)).toBeNull();
  });

  it('is none for a single frame', () => {
    expect(adviseFallback([frame(0, 1)], 7000)).toBeNull();
  });

  it('is the longest run without the frames that lie badly or were left out', () => {
    const frames = [
      frame(0, 0.1, 9),
      frame(1, 0.1),
      out(2),
      frame(3, 0.2),
      frame(4, 0.2),
      frame(5, 0.2),
      frame(6, 0.2, 12),
    ];
    const advice = adviseFallback(frames, 7000);
    expect(advice?.use).toBe('theseFrames');
    expect(advice?.indices).toEqual([3, 4, 5]);
    expect(advice?.why).toContain('12.0 px');
  });

  it('is the best single frame where no other could be used, or one holds nearly everything', () => {
    expect(adviseFallback([out(0), frame(1, 1), out(2)], 7000)).toMatchObject({
      use: 'bestSingleFrame',
      indices: [1],
    });
    expect(adviseFallback([frame(0, 0.02), frame(1, 0.98)], 7000)).toMatchObject({
      use: 'bestSingleFrame',
      indices: [1],
    });
  });

  it('is the frame with most detail where no two neighbours lie well', () => {
    const frames = [frame(0, 0.3, 9), frame(1, 0.5), frame(2, 0.2, 9)];
    expect(adviseFallback(frames, 7000)).toMatchObject({ use: 'bestSingleFrame', indices: [1] });
  });
});
