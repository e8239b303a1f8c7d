import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../domain-error.ts';
import {
  blurDiscAtInfinityMm,
  blurDiscMm,
  blurDiscNearFocusMm,
  entrancePupilToFocusMm,
} from './background.ts';
import {
  apertureForDepth,
  apertureForFocusTravel,
  apertureOfGreatestDepth,
  depthWithinBlurMm,
} from './best-aperture.ts';
import {
  closeUpLens,
  conjugatesOfMagnification,
  conjugatesOfSubject,
  focalLengthFromDistanceMm,
  focalLengthFromTravelMm,
  magnificationOfExtension,
  subjectToSensorMm,
} from './conjugates.ts';
import {
  depthOfField,
  depthOfFieldCloseUpMm,
  depthOfFocusMm,
  focusBetweenMm,
  hyperfocalMm,
  limitsAtDistance,
} from './depth-of-field.ts';
import {
  effectiveFNumber,
  exposureFactor,
  focalLengthsAtLoss,
  lightLossStops,
} from './effective-aperture.ts';
import type { LensSetting } from './setting.ts';

const lens = (f: number, N: number, m: number, P = 1): LensSetting => ({
  focalLengthMm: f,
  fNumber: N,
  magnification: m,
  pupilMagnification: P,
});

describe('conjugates', () => {
  it('OI O-1, O-2, O-3: a lens formula worked out', () => {
    expect(conjugatesOfSubject(100, 300)).toEqual({
      subjectDistanceMm: 300,
      imageDistanceMm: 150,
      magnification: 0.5,
    });
    expect(subjectToSensorMm(100, 0.5)).toBeCloseTo(450, 10);
    expect(conjugatesOfSubject(60, 1000).imageDistanceMm).toBeCloseTo(63.8298, 4);
    expect(conjugatesOfSubject(60, 1000).magnification).toBeCloseTo(0.06383, 5);
    expect(conjugatesOfMagnification(100, 1)).toEqual({
      subjectDistanceMm: 200,
      imageDistanceMm: 200,
      magnification: 1,
    });
    expect(subjectToSensorMm(100, 1)).toBe(400);
  });

  it('OI O-4, O-5, O-6: tubes and a close-up lens', () => {
    expect(magnificationOfExtension(80, 16)).toBeCloseTo(0.2, 12);
    expect(exposureFactor(0.2)).toBeCloseTo(1.44, 12);
    expect(magnificationOfExtension(55, 77)).toBeCloseTo(1.4, 12);
    expect(closeUpLens(200, 5).magnification).toBe(1);
    expect(closeUpLens(200, 5).combinedFocalLengthMm).toBeCloseTo(100, 10);
  });

  it('OI O-43, O-44, O-45: focal length found again', () => {
    expect(focalLengthFromDistanceMm(314, 1)).toBeCloseTo(78.5, 10);
    expect(focalLengthFromTravelMm(100, 0.5, 1)).toBeCloseTo(100, 10);
    expect(focalLengthFromDistanceMm(450, 0.5)).toBeCloseTo(100, 3);
    expect(focalLengthFromDistanceMm(250, 0.5)).toBeCloseTo(55.556, 3);
  });

  it('refuses a subject inside the focal length, and a negative magnification', () => {
    expect(() => conjugatesOfSubject(100, 90)).toThrow(DomainError);
    expect(() => conjugatesOfMagnification(100, -1)).toThrow(
      'expected a number above 0 for magnification but received -1',
    );
  });
});

describe('working f-number', () => {
  // Books round; the tolerance is theirs where it is wider than the computed digits.
  it.each([
    ['O-7 Langford', 0.5, 2.25, 1e-12],
    ['O-8 Langford', 12 / 30, 1.96, 1e-12],
    ['O-9 Langford, 250 mm', conjugatesOfSubject(50, 250).magnification, 1.5625, 1e-4],
    ['O-9 Langford, 170 mm', conjugatesOfSubject(50, 170).magnification, 2.0069, 1e-4],
    ['O-9 Langford, 100 mm', conjugatesOfSubject(50, 100).magnification, 4, 1e-4],
    ['O-10 US Army SS0511 p. 73', 27 / 12 - 1, 5.0625, 5e-3],
    ['O-11 US Army SS0512', 18 / 12 - 1, 2.25, 1e-12],
    ['O-12 US Army SS0512', 8 / 12, 2.778, 1e-3],
  ])('OI %s', (_, m, factor, tolerance) => {
    expect(Math.abs(exposureFactor(m) - factor)).toBeLessThanOrEqual(tolerance);
  });

  it('OI O-13: distance for a loss, published to 0.1', () => {
    const published = [29.4, 14.9, 9.2, 6.3, 4.8, 3.4, 2.7, 2.5, 2.3, 2];
    [0.1, 0.2, 1 / 3, 0.5, 2 / 3, 1, 4 / 3, 1.5, 5 / 3, 2].forEach((s, i) => {
      expect(Math.abs(focalLengthsAtLoss(s) - published[i]!)).toBeLessThanOrEqual(0.05);
    });
  });

  it('OI O-14, O-15, O-16: loss in stops, pupils included', () => {
    expect(lightLossStops(1 / 7)).toBeCloseTo(0.3853, 4);
    const m = [0.1, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 5];
    const stops = [0.275, 0.644, 1.17, 1.615, 2, 2.644, 3.17, 4, 5.17];
    m.forEach((x, i) => expect(Math.abs(lightLossStops(x) - stops[i]!)).toBeLessThanOrEqual(1e-3));
    expect(effectiveFNumber(lens(100, 1, 1, 0.5))).toBeCloseTo(3, 10);
    expect(effectiveFNumber(lens(100, 1, 1, 0.7))).toBeCloseTo(2.42857, 4);
    expect(effectiveFNumber(lens(100, 1, 1, 2))).toBeCloseTo(1.5, 10);
    expect(lightLossStops(1, 0.7)).toBeCloseTo(2.5602, 4);
  });
});

function total(l: LensSetting, c: number): number {
  const depth = depthOfField(l, c).total;
  if (depth.kind === 'infinite') throw new Error('expected a finite depth');
  return depth.mm;
}

describe('depth of field', () => {
  it.each([
    ['O-17', lens(100, 8, 1), 0.03, 0.47885, 0.48115, 1e-5],
    ['O-18', lens(100, 8, 1, 0.5), 0.03, 0.71828, 0.72173, 1e-5],
    ['O-19', lens(100, 11, 0.5), 0.03, 1.96702, 1.99315, 1e-5],
    ['O-21', lens(50, 8, 0.02), 0.03, 493.548, 805.263, 1e-3],
    ['O-22, ray-traced', lens(266.6666667, 8, 1, 0.581818), 0.03, 0.651913, 0.653088, 2e-6],
    ['O-23, ray-traced', lens(98.824, 5.6, 1, 1.4848), 0.02, 0.187216, 0.187641, 4e-6],
    // O-22, O-23: f and P are printed to five digits, which is worth 3e-6 here.
  ])('OI %s: near and far', (_, l, c, near, far, tolerance) => {
    const depth = depthOfField(l, c);
    expect(Math.abs(depth.nearMm - near)).toBeLessThanOrEqual(tolerance);
    expect(depth.far.kind === 'finite' && Math.abs(depth.far.mm - far) <= tolerance).toBe(true);
  });

  it('OI O-17, O-20, O-21: totals, and the close-up form', () => {
    expect(total(lens(100, 8, 1), 0.03)).toBeCloseTo(0.96001, 5);
    expect(depthOfFieldCloseUpMm(lens(100, 8, 1), 0.03)).toBeCloseTo(0.96, 10);
    expect(total(lens(100, 8, 0.1), 0.03)).toBeCloseTo(52.8304, 4);
    expect(total(lens(100, 8, 0.1, 0.5), 0.03)).toBeCloseTo(57.6332, 4);
    expect(depthOfFieldCloseUpMm(lens(50, 8, 0.02), 0.03)).toBeCloseTo(1224, 6);
  });

  it('OI O-24 to O-27: hyperfocal distance, in feet as the manuals have it', () => {
    const foot = 304.8;
    const inch = 25.4;
    const f = 6.1 * inch;
    expect(Math.abs((hyperfocalMm(f, 2.8, 0.002 * inch) - f) / foot - 553.7)).toBeLessThan(0.5);
    const limits = limitsAtDistance(554, 10);
    expect(Math.abs(limits.nearMm - 9.823)).toBeLessThan(0.05);
    expect(limits.far.kind === 'finite' && Math.abs(limits.far.mm - 10.184) < 0.05).toBe(true);
    expect(focusBetweenMm(9.8, 10.2)).toBeCloseTo(9.996, 3);
    const H = hyperfocalMm(2 * inch, 8, 0.002 * inch) - 2 * inch;
    expect(Math.abs(H / foot - 20.83)).toBeLessThan(0.05);
    expect(Math.abs(H / 2 / foot - 10.42)).toBeLessThan(0.05);
  });

  it('has no far end once the magnification is small enough', () => {
    expect(depthOfField(lens(50, 8, 0.0048), 0.03).far).toEqual({ kind: 'infinite' });
    expect(limitsAtDistance(554, 600).far).toEqual({ kind: 'infinite' });
  });

  it('depth of focus is 2 Ne c', () => expect(depthOfFocusMm(16, 0.03)).toBeCloseTo(0.96, 12));
});

const anyLens = fc.record({
  focalLengthMm: fc.double({ min: 20, max: 300, noNaN: true }),
  fNumber: fc.double({ min: 1, max: 64, noNaN: true }),
  magnification: fc.double({ min: 0.05, max: 5, noNaN: true }),
  pupilMagnification: fc.double({ min: 0.3, max: 3, noNaN: true }),
});

describe('background', () => {
  it('OI O-22, O-23: entrance pupil to the plane of focus', () => {
    expect(entrancePupilToFocusMm(lens(266.6666667, 8, 1, 0.581818))).toBeCloseTo(725, 2);
    expect(Math.abs(entrancePupilToFocusMm(lens(98.824, 5.6, 1, 1.4848)) - 165.378)).toBeLessThan(2e-2);
  });

  it('OI O-28 to O-31: discs', () => {
    expect(blurDiscMm(lens(100, 2.8, 0.5), 1000)).toBeCloseTo(13.7363, 4);
    expect(blurDiscMm(lens(180, 4, 0.25), 500)).toBeCloseTo(4.01786, 5);
    expect(blurDiscMm(lens(100, 8, 1), 100)).toBeCloseTo(4.16667, 5);
    expect(blurDiscMm(lens(100, 8, 1, 0.5), 100)).toBeCloseTo(3.125, 5);
    expect(blurDiscAtInfinityMm(lens(100, 8, 1))).toBe(12.5);
  });

  it('law: the disc at either limit of the depth of field is the disc that was asked for', () => {
    fc.assert(
      fc.property(anyLens, fc.double({ min: 0.002, max: 0.05, noNaN: true }), (l, c) => {
        const { nearMm, far } = depthOfField(l, c);
        expect(blurDiscMm(l, -nearMm) / c).toBeCloseTo(1, 8);
        if (far.kind === 'finite') expect(blurDiscMm(l, far.mm) / c).toBeCloseTo(1, 8);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it('law: near the plane of focus it is m^2 x / Ne', () => {
    fc.assert(
      fc.property(anyLens, (l) => {
        const x = entrancePupilToFocusMm(l) * 1e-6;
        expect(blurDiscNearFocusMm(l.magnification, effectiveFNumber(l), x) / blurDiscMm(l, x)).toBeCloseTo(
          1,
          5,
        );
      }),
      { seed: 2 },
    );
  });
});

describe('best aperture', () => {
  it('OI O-37: focus travel to aperture, published in tenths of a stop (Luong)', () => {
    const published = [16.6, 22.6, 32.2, 32.6, 32.9, 45.2, 45.4, 45.6, 45.8, 64];
    const whole: Record<number, number> = { 16: 8, 22: 9, 32: 10, 45: 11, 64: 12 };
    published.forEach((value, i) => {
      const stops = whole[Math.floor(value)]! + (value - Math.floor(value));
      expect(Math.abs(2 * Math.log2(apertureForFocusTravel(i + 1)) - stops)).toBeLessThanOrEqual(0.15);
    });
  });

  it.each([
    ['O-38', 1, 1, 0.5464, 19.366, 0.03651],
    ['O-39', 0.5, 5, 0.5464, 21.652, 0.04082],
    ['O-40', 0.25, 10, 0.55, 15.26, 0.02896],
  ])('OI %s', (_, m, T, lambda, Ne, blur) => {
    const best = apertureForDepth(m, T, lambda);
    expect(Math.abs(best.effectiveFNumber - Ne)).toBeLessThanOrEqual(1e-3);
    expect(Math.abs(best.totalBlurMm - blur)).toBeLessThanOrEqual(1e-5);
  });

  it('OI O-41, O-42: the greatest depth within a blur', () => {
    const best = apertureOfGreatestDepth(1, 0.03, 0.55);
    expect(Math.abs(best.effectiveFNumber - 15.807)).toBeLessThanOrEqual(1e-3);
    expect(best.depthMm).toBeCloseTo(0.67064, 5);
    [0.67044, 0.23421, 0].forEach((T, i) => {
      expect(depthWithinBlurMm(1, 2 * [8, 11, 16][i]!, 0.03, 0.55)).toBeCloseTo(T, 4);
    });
  });
});
