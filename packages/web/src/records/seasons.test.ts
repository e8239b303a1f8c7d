import type { RecordRow } from '@tepal/formats';
import { describe, expect, it } from 'vitest';
import { bySeason, recordsSentence } from './seasons.ts';

const record = (id: string, eventDate: string, leaves = '0.01° cell, ± 660 m'): RecordRow => ({
  id,
  scientificName: id,
  commonName: null,
  eventDate,
  siteName: null,
  count: null,
  remarks: null,
  frameIds: [],
  leaves,
});

describe('records by season', () => {
  it('are the newest first, those without a date last, and none is lost', () => {
    const seasons = bySeason([
      record('a', '2025-05-02'),
      record('b', ''),
      record('c', '2026-06-01'),
      record('d', '2026-06-11T05:20:00+01:00'),
    ]);
    expect(seasons.map(({ season, records }) => [season, records.map(({ id }) => id)])).toEqual([
      ['June 2026', ['d', 'c']],
      ['May 2025', ['a']],
      ['Without a date', ['b']],
    ]);
  });
});

describe('the first sentence', () => {
  it('says how many, and what stays in the house', () => {
    expect(recordsSentence([])).toContain('Nothing is recorded yet');
    expect(recordsSentence([record('a', '2026')])).toBe(
      '1 record of 1 species; each leaves the house with a coarse place only.',
    );
    expect(recordsSentence([record('a', '2026'), record('b', '2026', 'withheld')])).toBe(
      '2 records of 2 species; the place of one stays in the house.',
    );
  });
});
