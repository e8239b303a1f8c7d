import type { GpxPoint } from '@tepal/formats';
import type { SetUp } from '@tepal/notebook';
import { describe, expect, it } from 'vitest';
import { offsetFromPhotographedClock, offsetFromTrack } from './camera-clock.ts';
import { matchSetUps } from './set-ups.ts';

const start = Date.UTC(2026, 5, 14, 5, 0, 0);

/** Walks at 1.2 m/s, and stands at plants of known times for known stretches [s]. */
function track(stands: readonly (readonly [from: number, to: number])[]): GpxPoint[] {
  let metres = 0;
  return Array.from({ length: 721 }, (_, i) => {
    const t = i * 10;
    if (!stands.some(([from, to]) => t > from && t <= to)) metres += 12;
    const latitudeDeg = 52 + metres / 111_195;
    return { latitudeDeg, longitudeDeg: 0, elevationM: null, timeMs: start + t * 1000, name: null };
  });
}

const stands = [
  [600, 900],
  [1500, 1700],
  [2900, 3600],
  [4400, 4560],
] as const;

describe('a camera’s clock', () => {
  it('is off by what one photograph of a clock shows', () => {
    expect(offsetFromPhotographedClock(start, start + 83_000)).toBe(83);
    expect(offsetFromPhotographedClock(start + 3_600_000, start)).toBe(-3600);
  });

  it('is found from where the track stands', () => {
    const offsetS = 247;
    const frames = stands.flatMap(([from, to]) =>
      [0.05, 0.3, 0.6, 0.95].map((share) => start + (from + share * (to - from) - offsetS) * 1000),
    );
    const found = offsetFromTrack(frames, track(stands));
    expect(found.kind).toBe('found');
    // Half a point's spacing, and the least room that the shortest stand leaves at its ends.
    if (found.kind === 'found') expect(Math.abs(found.offsetS - offsetS)).toBeLessThanOrEqual(15);
    const winter = offsetFromTrack(
      frames.map((ms) => ms - 3_600_000),
      track(stands),
      { hours: [0, 1] },
    );
    if (winter.kind !== 'found') throw new Error(winter.why);
    expect(Math.abs(winter.offsetS - offsetS - 3600)).toBeLessThanOrEqual(15);
  });

  it('is not guessed where the track does not tell', () => {
    const frames = [0, 60, 120, 180, 240].map((s) => start + s * 1000);
    expect(offsetFromTrack(frames, track([]))).toMatchObject({ kind: 'unclear' });
    expect(offsetFromTrack(frames.slice(0, 2), track(stands))).toMatchObject({ kind: 'unclear' });
    expect(offsetFromTrack(frames, [])).toMatchObject({ kind: 'unclear' });
  });
});

describe('logged set-ups', () => {
  const setUp = (id: string, minute: number): SetUp => ({
    ...{
      id,
      outingId: 'o',
      subjectId: null,
      wantedPictureId: null,
      position: null,
      cameraId: null,
      lensId: null,
    },
    at: new Date(start + minute * 60_000).toISOString(),
    ...{
      support: null,
      magnification: null,
      backgroundDistanceMm: null,
      lightModifierIds: [],
      exposure: null,
      notes: '',
    },
  });

  it('go to the frames after them until the next, and to those shortly before the first', () => {
    const frames = [-10, -2, 1, 9, 11, 200].map((minute) => start + minute * 60_000 - 90_000);
    const matched = matchSetUps([...frames, null], [setUp('b', 10), setUp('a', 0)], 90);
    expect(matched.map((one) => (one.kind === 'matched' ? one.setUp.id : null))).toEqual([
      null,
      'a',
      'a',
      'a',
      'b',
      null,
      null,
    ]);
  });
});
