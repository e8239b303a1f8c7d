import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exposureFactor } from '../lens/effective-aperture.ts';
import {
  exactOfMarked,
  F_NUMBER_DIAL,
  ISO_DIAL,
  nearestDialPosition,
  SHUTTER_DIAL,
  shutterInWords,
} from './dial.ts';
import {
  equivalentReflectance,
  ev100OfSetting,
  evOfIlluminance,
  evOfLuminance,
  exposureTimeS,
  illuminanceOfSetting,
  isoNeeded,
  luminanceOfSetting,
  NATURAL_LIGHT,
} from './exposure.ts';
import {
  ACCEPTABLE_SNR,
  EXCELLENT_SNR,
  exposureIndex,
  focalPlaneExposureLuxS,
  lensConstant,
  midtoneExposureLuxS,
  pixelsPerDegree,
  saturationShare,
  saturationSpeed,
  snrForDelivery,
} from './iso-speed.ts';
import { photonsOnPixel, photonsPerUm2LuxS } from './photons.ts';
import {
  dynamicRange,
  electronsAtIso,
  electronsForSnr,
  gainFromTransfer,
  QUANTISATION_VARIANCE,
  snrAtIso,
  snrOfAverage,
  snrOfElectrons,
  temporalDarkNoiseElectrons,
} from './sensor-noise.ts';

describe('dials', () => {
  it('mean what they mean: f/5.6 is 2^(5/2), 1/250 is 1/256, ISO 800 is 800', () => {
    expect(exactOfMarked(F_NUMBER_DIAL, 5.6)).toBeCloseTo(2 ** 2.5, 12);
    expect(exactOfMarked(SHUTTER_DIAL, 1 / 250)).toBeCloseTo(1 / 256, 12);
    expect(exactOfMarked(SHUTTER_DIAL, 1 / 8000)).toBeCloseTo(1 / 8192, 12);
    expect(exactOfMarked(SHUTTER_DIAL, 30)).toBeCloseTo(32, 12);
    expect(exactOfMarked(ISO_DIAL, 800)).toBeCloseTo(800, 9);
  });

  it('every mark lies within a tenth of a stop of what it means', () => {
    // Common practice, no source: 1/6 s engraved for 1/6.35 s and f/1.2 for f/1.26 are the worst.
    const worst = (dial: typeof F_NUMBER_DIAL, stops: number): number =>
      Math.max(...dial.map((p) => Math.abs(stops * Math.log2(p.marked / p.exact))));
    expect(worst(F_NUMBER_DIAL, 2)).toBeLessThan(0.15);
    expect(worst(SHUTTER_DIAL, 1)).toBeLessThan(0.11);
    expect(worst(ISO_DIAL, 1)).toBeLessThan(0.03);
  });

  it('keeps a value that is on no dial, and finds the nearest mark', () => {
    expect(exactOfMarked(F_NUMBER_DIAL, 6)).toBe(6);
    expect(nearestDialPosition(ISO_DIAL, 700).marked).toBe(640);
    expect(shutterInWords(1 / 250)).toBe('1/250 s');
    expect(shutterInWords(0.5)).toBe('0.5 s');
  });
});

describe('meter equations', () => {
  it('OI E-1 to E-4: colour-hdri test suite', () => {
    expect(evOfLuminance(0.125)).toBeCloseTo(0, 8);
    expect(evOfLuminance(0.25)).toBeCloseTo(1, 8);
    expect(evOfLuminance(0.125, 100, 14)).toBeCloseTo(-0.16349873, 8);
    expect(evOfIlluminance(2.5)).toBeCloseTo(0, 8);
    expect(evOfIlluminance(5)).toBeCloseTo(1, 8);
    expect(evOfIlluminance(0.125, 100, 340)).toBeCloseTo(-4.76553475, 8);
    const settings = [
      { fNumber: 2.8, exposureTimeS: 1 / 8, iso: 100 },
      { fNumber: 5.6, exposureTimeS: 1 / 2, iso: 800 },
      { fNumber: 8, exposureTimeS: 1, iso: 16000 },
    ];
    [7.84, 0.98, 0.05].forEach((L, i) => expect(luminanceOfSetting(settings[i]!)).toBeCloseTo(L, 8));
    [156.8, 19.6, 1].forEach((E, i) => expect(illuminanceOfSetting(settings[i]!)).toBeCloseTo(E, 8));
    expect(ev100OfSetting({ fNumber: 8, exposureTimeS: 1 / 250, iso: 400 })).toBeCloseTo(11.9657843, 7);
  });

  it('OI E-5 to E-7', () => {
    expect(Math.abs(100 * equivalentReflectance() - 15.7)).toBeLessThan(0.05);
    expect(Math.abs(100 * equivalentReflectance(14) - 17.6)).toBeLessThan(0.05);
    const ev15 = { fNumber: 2 ** 7.5, exposureTimeS: 1, iso: 100 };
    expect(luminanceOfSetting(ev15)).toBeCloseTo(4096, 6);
    expect(illuminanceOfSetting(ev15)).toBeCloseTo(81920, 5);
    expect(evOfIlluminance(100_000)).toBeCloseTo(15.2877, 4);
    expect(evOfIlluminance(20_000)).toBeCloseTo(12.9658, 4);
    expect(evOfIlluminance(5_000)).toBeCloseTo(10.9658, 4);
  });

  it('OI E-8, E-9: close up', () => {
    expect(exposureTimeS({ ev100: 12, fNumber: 8, iso: 400, exposureFactor: exposureFactor(1) })).toBeCloseTo(
      1 / 64,
      12,
    );
    const t = exposureTimeS({ ev100: 13, fNumber: 5.6, iso: 200, exposureFactor: exposureFactor(1, 0.5) });
    expect(Math.abs(1 / t - 58.05)).toBeLessThanOrEqual(0.01);
    expect(
      isoNeeded({ ev100: 13, fNumber: 5.6, exposureTimeS: t, exposureFactor: exposureFactor(1, 0.5) }),
    ).toBeCloseTo(200, 9);
  });

  it('OI E-10: open shade to sun is 3 stops', () => {
    const ev = (word: string): number => NATURAL_LIGHT.find(({ light }) => light.includes(word))!.ev100;
    expect(ev('distinct shadows') - ev('open shade')).toBe(3);
  });
});

describe('ISO 12232', () => {
  it('OI E-11: the lens constant', () => {
    const q = (transmittance: number, vignettingFactor: number, fieldAngleDeg: number): number =>
      lensConstant({ transmittance, vignettingFactor, fieldAngleDeg });
    expect(q(0.9, 0.98, 10)).toBeCloseTo(0.65157483, 8);
    expect(q(0.8, 0.98, 10)).toBeCloseTo(0.57917763, 8);
    expect(q(0.9, 0.94, 20)).toBeCloseTo(0.51808797, 8);
  });

  it('OI E-12 to E-16: focal-plane exposure, exposure index, saturation, life size', () => {
    const scene = (luminance: number, fNumber: number, exposureTimeS: number, flareLuxS: number) => ({
      luminance,
      fNumber,
      exposureTimeS,
      focalLengthMm: 50,
      imageDistanceMm: 50,
      flareLuxS,
    });
    const rows = [
      [4000, 8, 1 / 250, 0.0015, 0.16289371, 0.16439371, 60.82957797],
      [2000, 5.6, 1 / 500, 0.005, 0.08310904, 0.08810904, 113.49573211],
      [1000, 2.8, 1 / 1000, 0.01, 0.08310904, 0.09310904, 107.40095699],
    ] as const;
    for (const [L, A, t, flare, H, withFlare, index] of rows) {
      expect(focalPlaneExposureLuxS(scene(L, A, t, 0))).toBeCloseTo(H, 8);
      expect(focalPlaneExposureLuxS(scene(L, A, t, flare))).toBeCloseTo(withFlare, 8);
      expect(Math.abs(exposureIndex(withFlare) - index)).toBeLessThan(2e-5);
    }
    expect(Math.abs(saturationShare(0.16439371, 400) - 0.8430446)).toBeLessThan(1e-7);
    expect(saturationSpeed(0.78)).toBeCloseTo(100, 10);
    expect(focalPlaneExposureLuxS({ ...scene(4000, 8, 1 / 250, 0), imageDistanceMm: 100 })).toBeCloseTo(
      0.04072343,
      8,
    );
  });

  it('OI E-17, E-18: print density', () => {
    expect(Math.abs(pixelsPerDegree(70, 25) - 30)).toBeLessThan(0.6);
    expect(Math.abs(snrForDelivery(EXCELLENT_SNR, 118.11) - 23.7)).toBeLessThan(0.05);
    expect(snrForDelivery(ACCEPTABLE_SNR, 70)).toBeCloseTo(10, 10);
  });
});

describe('photons and sensor', () => {
  it('OI E-19, N-1', () => {
    expect(Math.abs(photonsPerUm2LuxS() - 4090.7)).toBeLessThan(0.5);
    const light = { pixelAreaUm2: 1, exposureTimeMs: 1, wavelengthUm: 1, irradianceUwPerCm2: 1 };
    expect(Math.abs(photonsOnPixel(light) - 50.34)).toBeLessThan(5e-3);
  });

  it('OI N-2 to N-6, N-8', () => {
    [9.5783, 31.4814, 99.955].forEach((snr, i) =>
      expect(snrOfElectrons(100 * 10 ** i, 3)).toBeCloseTo(snr, 4),
    );
    expect(electronsForSnr(10, 3)).toBeCloseTo(108.3095, 3);
    expect(electronsForSnr(40, 3)).toBeCloseTo(1608.95, 3);
    const dark = temporalDarkNoiseElectrons(3, 0.25);
    expect(electronsForSnr(1, dark)).toBeCloseTo(3.7532, 5);
    expect(dark + 0.5).toBeCloseTo(3.71455, 5);
    expect(QUANTISATION_VARIANCE).toBeCloseTo(0.0833, 4);
    expect(dynamicRange(50_000, 3.5).stops).toBeCloseTo(13.802, 2);
    expect(dynamicRange(50_000, 3.5).decibels).toBeCloseTo(83.1, 2);
    expect(dynamicRange(50_000, electronsForSnr(1, 3.5)).decibels).toBeCloseTo(81.86, 2);
    expect(gainFromTransfer({ mean: 500, variance: 130 }, { mean: 1500, variance: 380 })).toBe(0.25);
    expect(snrOfElectrons(1000, 3)).toBeCloseTo(31.481, 3);
    expect(snrOfAverage(250, 3, 4)).toBeCloseTo(31.068, 3);
  });

  it('OI N-7: the metered midtone', () => {
    expect(midtoneExposureLuxS(100)).toBe(0.08125);
    const sensor = { pixelPitchUm: 4.35, quantumEfficiency: 0.5, readNoiseElectrons: 3 };
    const rows = [
      [100, 8456, 91.91],
      [1600, 528.5, 22.8],
      [6400, 132.1, 11.12],
    ] as const;
    for (const [iso, electrons, snr] of rows) {
      expect(electronsAtIso(sensor, iso) / electrons).toBeCloseTo(1, 3);
      expect(snrAtIso(sensor, iso) / snr).toBeCloseTo(1, 3);
    }
  });

  it('law: more light, more signal to noise', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e5, noNaN: true }),
        fc.double({ min: 0, max: 1e4, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (e, more, r) => {
          expect(snrOfElectrons(e + more, r)).toBeGreaterThanOrEqual(snrOfElectrons(e, r));
        },
      ),
      { seed: 3 },
    );
  });
});
