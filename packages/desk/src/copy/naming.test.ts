import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { letterOf, readPattern, safeName } from './naming.ts';

const parts = {
  ...{ takenAt: '2026-05-10T06:12:30.500+02:00', outing: 'wet meadow', camera: 'Close-up 20' },
  name: 'IMG_0412',
};

describe('names by a pattern in plain words', () => {
  it('fills the words and makes folders at each slash', () => {
    expect(readPattern('{year}/{day} {outing}/{time} {number}')(parts)).toEqual([
      '2026',
      '2026-05-10 wet meadow',
      '06-12-30 0412',
    ]);
  });

  it('leaves no gap where nothing is known', () => {
    expect(readPattern('{day} {outing} {number}')({ ...parts, outing: null })).toEqual(['2026-05-10 0412']);
    expect(readPattern('{day} {name}')({ ...parts, takenAt: null })).toEqual(['undated IMG_0412']);
  });

  it.each([
    ['{date} {number}', '{date}'],
    ['{day', 'brace'],
    ['{day}/{outing}', 'one name'],
  ])('refuses %s and says why', (pattern, why) => {
    expect(() => readPattern(pattern)).toThrow(why);
  });

  it('takes the number at the end of the name, whatever follows it', () => {
    const number = readPattern('{number}');
    expect(number({ ...parts, name: 'P1020304-2b' })).toEqual(['2']);
    expect(number({ ...parts, name: '_DSC7788' })).toEqual(['7788']);
    expect(number({ ...parts, name: 'flower' })).toEqual(['flower']);
  });
});

describe('a name for every disk', () => {
  it('holds none of what exFAT and Windows refuse, and is stable', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (text) => {
        const name = safeName(text);
        expect(name).not.toMatch(/["*/:<>?\\|\p{Cc}]|^[\s.]|[\s.]$/u);
        expect(name).not.toMatch(/^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i);
        expect(Buffer.byteLength(name)).toBeLessThanOrEqual(201);
        expect(safeName(name)).toBe(name);
      }),
      { seed: 5, numRuns: 500 },
    );
  });

  it('writes accents composed, and keeps names of devices apart', () => {
    expect(safeName('Blu\u0308te')).toBe('Bl\u00fcte');
    expect(safeName('con')).toBe('con-');
    expect(safeName('NUL.txt')).toBe('NUL.txt-');
  });

  it('sets as many pictures of one name apart as there are', () => {
    const letters = Array.from({ length: 40 }, (_, i) => letterOf(i));
    expect(letters.slice(0, 3)).toEqual(['', ' b', ' c']);
    expect(new Set(letters).size).toBe(40);
  });
});
