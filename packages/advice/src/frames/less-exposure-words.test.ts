import { expect, it } from 'vitest';
import { lessExposureWords, type ThirdsLess } from './less-exposure-words.ts';

const of = (red: number, green = 0, blue = 0, more = false) => {
  const part = (thirds: number): ThirdsLess => ({ thirds, more });
  return lessExposureWords({ red: part(red), green: part(green), blue: part(blue) });
};

it.each([
  [of(0), null],
  [of(1), '1/3 of a stop less would have kept the red round the point.'],
  [of(1, 3), '1 stop less would have kept the green round the point.'],
  [of(0, 0, 4), '1 1/3 stops less would have kept the blue round the point.'],
  [of(6, 0, 0, true), 'More than 2 stops less would have been needed to keep the red round the point.'],
])('says %s', (said, expected) => expect(said).toBe(expected));
