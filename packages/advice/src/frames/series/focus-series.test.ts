import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { focusMovement, seriesKind, type DetailMap } from './focus-series.ts';
import { focusSeriesWords, repeatSeriesWords } from './series-words.ts';

const COLUMNS = 60;
const ROWS = 40;

/**
 * Detail of a slope of even texture, near at the left and far at the right: a Gaussian blur of sigma s times the
 * tile's detail goes with 1 / (1 + s²)², s rising with the distance from the plane of focus (the mean squared
 * Laplacian of a texture falls steeply with blur; the form is ours, the truth here is the order alone).
 */
function slopeMap(focusAt: number, shake = 0, dome = false): DetailMap {
  const detail = Float32Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const x = (i % COLUMNS) / COLUMNS;
    const y = Math.floor(i / COLUMNS) / ROWS;
    const depth = dome ? Math.hypot(x - 0.5, y - 0.5) * 1.4 : x;
    const texture = 200 + 100 * Math.sin(i * 12.9898);
    const variance = (12 * (depth - focusAt)) ** 2 + shake ** 2;
    return texture / (1 + variance) ** 2;
  });
  return { columns: COLUMNS, rows: ROWS, detail };
}

const evenly = (count: number, from: number, to: number) =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

describe('a focus series told from repeats', () => {
  it.each([4, 6, 12])('is found when the focus goes through a slope in %i frames', (count) => {
    expect(focusMovement(evenly(count, 0, 1).map((at) => slopeMap(at))).kind).toBe('focus');
  });

  it('is found on a dome, where the sharp zone is a ring and its centre stands still', () => {
    expect(focusMovement(evenly(7, 0, 0.9).map((at) => slopeMap(at, 0, true))).kind).toBe('focus');
  });

  it('is not seen in repeats that differ by shake', () => {
    const shakes = [0.2, 2, 0.5, 3, 1, 0.4, 1.5];
    expect(focusMovement(shakes.map((shake) => slopeMap(0.5, shake)))).toEqual({ kind: 'repeat' });
  });

  it('is not seen where the focus wanders to and fro', () => {
    expect(focusMovement([0.2, 0.8, 0.4, 0.9, 0.1, 0.6].map((at) => slopeMap(at))).kind).toBe('repeat');
  });

  it('needs three frames of one grid', () => {
    expect(focusMovement([]).kind).toBe('repeat');
    expect(focusMovement([slopeMap(0), slopeMap(1)]).kind).toBe('repeat');
    const other = { columns: 2, rows: 2, detail: [1, 1, 1, 1] };
    expect(focusMovement([slopeMap(0), slopeMap(0.5), other]).kind).toBe('repeat');
  });

  it('does not depend on brightness or direction', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4, max: 12 }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (count, gain) => {
          const maps = evenly(count, 0, 1).map((at) => slopeMap(at));
          const brighter = maps.map((map) => ({
            ...map,
            detail: Float32Array.from(map.detail, (v) => v * gain),
          }));
          expect(focusMovement(brighter)).toEqual(focusMovement(maps));
          expect(focusMovement([...maps].reverse()).kind).toBe(focusMovement(maps).kind);
        },
      ),
      { seed: 20_264, numRuns: 30 },
    );
  });
});

describe('the kind of a series', () => {
  it('is single, repeat or focus, and only a focus series is to be blended', () => {
    const focus = focusMovement(evenly(6, 0, 1).map((at) => slopeMap(at)));
    expect(seriesKind(6, focus)).toEqual({ kind: 'focus', blendSuggested: true });
    expect(seriesKind(6, { kind: 'repeat' })).toEqual({ kind: 'repeat', blendSuggested: false });
    expect(seriesKind(1, { kind: 'repeat' })).toEqual({ kind: 'single', blendSuggested: false });
  });
});

describe('whether it is complete', () => {
  it('finds a missing slice', () => {
    const places = [0, 0.1, 0.2, 0.3, 0.7, 0.8, 0.9, 1];
    const movement = focusMovement(places.map((at) => slopeMap(at)));
    expect(movement).toMatchObject({ kind: 'focus', gaps: [{ after: 3 }] });
  });

  it('sees no gap in even steps that pass both ends', () => {
    const movement = focusMovement(evenly(12, -0.15, 1.15).map((at) => slopeMap(at)));
    expect(movement).toEqual({ kind: 'focus', gaps: [], firstEnd: 'reached', lastEnd: 'reached' });
  });

  it('sees an end that was not reached', () => {
    const movement = focusMovement(evenly(8, -0.1, 0.6).map((at) => slopeMap(at)));
    expect(movement).toMatchObject({ kind: 'focus', lastEnd: 'notReached' });
  });

  it('says so', () => {
    expect(focusSeriesWords({ kind: 'focus', gaps: [], firstEnd: 'reached', lastEnd: 'reached' }, 12)).toBe(
      'Focus series of 12 frames, complete as far as the frames show: no gap, both ends reached.',
    );
    expect(
      focusSeriesWords(
        { kind: 'focus', gaps: [{ after: 2 }], firstEnd: 'reached', lastEnd: 'notReached' },
        6,
      ),
    ).toBe(
      'Focus series of 6 frames, perhaps not complete: the focus steps far between frames 3 and 4 and the last frame may still lie inside the subject.',
    );
    expect(focusSeriesWords({ kind: 'focus', gaps: [], firstEnd: 'cannotTell', lastEnd: 'reached' }, 6)).toBe(
      'Focus series of 6 frames without a gap; whether the first frame reached the end of the subject cannot be told.',
    );
  });
});

describe('a series of repeats in words', () => {
  const blur = (sigmaPx: number | null, cause: 'sharp' | 'defocus' | 'motion' = 'sharp') => ({
    blur: {
      sigmaPx,
      sigmaLowPx: null,
      sigmaHighPx: null,
      cause,
      confidence: 0.9,
      motion: null,
      moved: cause === 'motion' ? ('subject' as const) : null,
    },
  });

  it('says how many are sharp and what spoiled the rest', () => {
    const frames = [blur(0.8), blur(2, 'motion'), blur(2.5, 'motion'), blur(1.8, 'defocus'), blur(null)];
    expect(repeatSeriesWords(frames, 1)).toBe(
      '1 of 5 sharp at the point; the plant moved in 2, the focus missed in 1 and of one it cannot be told.',
    );
  });

  it('is right for one, two and none', () => {
    expect(repeatSeriesWords([], 1)).toBe('No frames.');
    expect(repeatSeriesWords([blur(0.8)], 1)).toBe('One frame, sharp at the point.');
    expect(repeatSeriesWords([blur(2, 'motion')], 1)).toBe('One frame: the plant moved.');
    expect(repeatSeriesWords([blur(0.8), blur(0.9)], 1)).toBe('Both are sharp at the point.');
    expect(repeatSeriesWords([blur(2, 'defocus'), blur(3, 'defocus')], 1)).toBe(
      'None is sharp at the point; the focus missed in 2.',
    );
  });
});
