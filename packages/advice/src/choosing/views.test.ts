import { describe, expect, it } from 'vitest';
import { IDENTIFICATION_VIEWS, missingViews } from './views.ts';

describe('the views that a naming still lacks', () => {
  it('are all of them before anything is said', () => {
    expect(missingViews([{ name: 'Harebell', shows: null }], 'Harebell')).toEqual(IDENTIFICATION_VIEWS);
  });

  it('are fewer by what series of the same name show, and not of another', () => {
    const series = [
      { name: 'Harebell', shows: 'leaf' },
      { name: ' harebell', shows: 'flower from the side' },
      { name: 'Marguerite', shows: 'habitat' },
    ] as const;
    expect(missingViews(series, 'Harebell')).toEqual([
      'whole plant',
      'flower from the front',
      'stem base',
      'habitat',
    ]);
  });
});
