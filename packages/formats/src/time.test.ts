import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatInstant, parseInstantMs, parseWrittenTime } from './time.ts';

describe('times as text', () => {
  it('agree with the platform’s own calendar, for any moment of four-digit years', () => {
    const year1 = Date.parse('0001-01-01T00:00:00Z');
    const year9999 = Date.parse('9999-12-31T23:59:59.999Z');
    fc.assert(
      fc.property(fc.integer({ min: year1, max: year9999 }), (timeMs) => {
        const theirs = new Date(timeMs).toISOString().replace('.000Z', 'Z');
        expect(formatInstant(timeMs)).toBe(theirs);
        expect(parseInstantMs(theirs)).toBe(timeMs);
      }),
      { seed: 20261125, numRuns: 1000 },
    );
  });

  it.each([
    ['2024-02-29T12:00:00+01:00', '2024-02-29T11:00:00Z'],
    ['2026-03-29T02:30:00+0530', '2026-03-28T21:00:00Z'],
    ['2026-12-31T24:00:00Z', '2027-01-01T00:00:00Z'],
    ['2016-12-31T23:59:60Z', '2017-01-01T00:00:00Z'],
    ['2026-06-01T05:07Z', '2026-06-01T05:07:00Z'],
    ['2026-06-01t05:07:08.25-03', '2026-06-01T08:07:08.250Z'],
  ])('%s is %s', (text, same) => {
    expect(formatInstant(parseInstantMs(text)!)).toBe(same);
  });

  it.each(['2023-02-29T00:00:00Z', '2026-13-01T00:00:00Z', '2026-01-01T25:00Z', '2026-01-01', 'x', ''])(
    '%s is no moment',
    (text) => {
      expect(parseInstantMs(text)).toBeNull();
    },
  );

  it('without an offset are no moment, but a written time', () => {
    expect(parseInstantMs('2026-06-01T05:07:00')).toBeNull();
    expect(parseWrittenTime('2026-06-01T05:07:00')).toEqual({
      localMs: Date.UTC(2026, 5, 1, 5, 7),
      offsetMinutes: null,
    });
  });
});
