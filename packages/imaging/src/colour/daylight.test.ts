import { describe, expect, it } from 'vitest';
import { daylightChromaticity, temperatureMcCamy1992 } from './daylight.ts';

describe('the colour of daylight', () => {
  // FS prints five decimals of the locus; D50, D55, D65 and D75 agree with it to three.
  it.each([
    [5003, 0.34565, 0.3586],
    [5503, 0.33243, 0.34755],
    [6504, 0.31271, 0.32912],
    [7504, 0.29905, 0.31498],
  ])('of %i K is %f, %f (FS L-23)', (kelvin, x, y) => {
    const found = daylightChromaticity(kelvin);
    expect(found.x).toBeCloseTo(x, 4);
    expect(found.y).toBeCloseTo(y, 4);
  });

  it('is 6504 K for D65 (FS L-24)', () => {
    expect(temperatureMcCamy1992({ x: 0.31271, y: 0.32902 })).toBeCloseTo(6504.4, 1);
  });
});
