import { EXCELLENT_SNR, snrAtIso } from '@tepal/science';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkedRequest, type ExposureRequest } from '../question/request.ts';
import { ladderOf } from './ladder.ts';
import { isoBounds, isoPosition, noiseBorneShare } from './noise.ts';
import { chanceWanted, recommendedSetting } from './recommended.ts';
import { oddsAt, sceneOf, sharpAt, type Scene } from './scene.ts';
import { fNumbersOf } from './settings.ts';
import { sharpRange } from './uncertainty.ts';
import { MEADOW_FLOWER } from '../fixtures/meadow-flower.ts';

const base: ExposureRequest = { ...MEADOW_FLOWER, windMs: 0.3 };
const scene = (own: Partial<ExposureRequest> = {}): Scene => sceneOf(checkedRequest({ ...base, ...own }));

describe('noise by degrees', () => {
  it('OI E-17, E-18: the clean ISO has shadows, the ceiling midtones, of signal to noise 40 scaled to the print', () => {
    const s = scene();
    // 6000 px over 42 cm seen from 30 cm: 70 x 25 / (142.86 x 30) of 40.
    const wanted = (EXCELLENT_SNR * 70 * 25) / ((6000 / 42) * 30);
    expect(s.wantedSnr.midtone).toBeCloseTo(wanted, 10);
    const { cleanThirds, ceilingThirds } = isoBounds(s);
    const snr = (thirds: number, stops: number): number => snrAtIso(s.sensor, 100 * 2 ** (thirds / 3), stops);
    expect(snr(cleanThirds, -3)).toBeGreaterThanOrEqual(wanted);
    expect(snr(cleanThirds + 1, -3)).toBeLessThan(wanted);
    expect(snr(ceilingThirds, 0)).toBeGreaterThanOrEqual(wanted);
    expect(snr(ceilingThirds + 1, 0)).toBeLessThan(wanted);
  });

  it('law: the share never rises with ISO; 1 while clean, one half at the ceiling; a larger print bears less', () => {
    const s = scene();
    const { cleanThirds, ceilingThirds } = isoBounds(s);
    expect(noiseBorneShare(s, cleanThirds)).toBe(1);
    expect(noiseBorneShare(s, ceilingThirds)).toBeCloseTo(0.5, 12);
    for (let i = -3; i < 30; i++) {
      expect(noiseBorneShare(s, i + 1)).toBeLessThanOrEqual(noiseBorneShare(s, i));
      const larger = scene({ delivery: { widthMm: 840, heightMm: 560, viewingDistanceMm: 300 } });
      expect(noiseBorneShare(larger, i)).toBeLessThanOrEqual(noiseBorneShare(s, i));
    }
    expect(isoBounds(scene({ isoCeiling: 400 })).ceilingThirds).toBe(6);
  });
});

describe('the ladder', () => {
  const anyScene = fc
    .record({
      m: fc.double({ min: 0.05, max: 1.5, noNaN: true }),
      depth: fc.double({ min: 0, max: 60, noNaN: true }),
      px: fc.integer({ min: 2000, max: 9500 }),
      k: fc.double({ min: 0.2, max: 5, noNaN: true }),
      own: fc.option(fc.constantFrom(50, 200, 800, 3200)),
    })
    .map(({ m, depth, px, k, own }) =>
      scene({
        magnification: m,
        subjectDepthMm: depth,
        pixels: { width: px, height: Math.round(px / 1.5) },
        delivery: { widthMm: 420 * k, heightMm: 280 * k, viewingDistanceMm: 300 },
        ...(own === null ? {} : { isoCeiling: own }),
      }),
    );

  it('law: every rung is faster; apertures never close, ISO never falls, and stays within its ceiling', () => {
    fc.assert(
      fc.property(anyScene, (s) => {
        const { rungs, beyond } = ladderOf(s, fNumbersOf(s));
        const { ceilingThirds } = isoBounds(s);
        for (let i = 1; i < rungs.length; i++) {
          const [before, here] = [rungs[i - 1]!, rungs[i]!];
          expect(here.isoThirds - here.f.thirds).toBe(before.isoThirds - before.f.thirds + 1);
          expect(here.f.thirds).toBeLessThanOrEqual(before.f.thirds);
        }
        for (const { isoThirds } of [...rungs, ...beyond])
          expect(isoThirds).toBeLessThanOrEqual(Math.max(0, ceilingThirds));
        expect(beyond.length).toBeGreaterThan(0);
      }),
      { seed: 51, numRuns: 400 },
    );
  });

  it('by hand: depth first while ISO is clean, then two thirds of ISO for one of aperture', () => {
    const s = scene();
    const { rungs, cleanRung } = ladderOf(s, fNumbersOf(s));
    const shown = rungs.map(({ f, isoThirds }) => `f/${f.marked} ${isoPosition(isoThirds).marked}`);
    expect(shown.slice(0, cleanRung + 1)).toEqual(
      ['100', '125', '160', '200', '250', '320', '400', '500', '640'].map((iso) => `f/10 ${iso}`),
    );
    expect(shown.slice(cleanRung + 1, cleanRung + 7)).toEqual([
      'f/9 640',
      'f/9 800',
      'f/9 1000',
      'f/8 1000',
      'f/8 1250',
      'f/8 1600',
    ]);
  });

  it('the setting taken gives a sharp frame in a lull within the frames one is willing to take', () => {
    for (const frames of [5, 15, 40]) {
      const s = scene({ frames });
      const { f, t } = recommendedSetting(s);
      const sharp = sharpAt(s, f.exact, t.exact);
      expect(sharp).toBeGreaterThanOrEqual(chanceWanted(frames) - 0.005);
      expect(1 - (1 - sharp) ** frames).toBeGreaterThanOrEqual(0.94);
    }
    // More patience, more depth and less ISO.
    const [hasty, patient] = [5, 40].map((frames) => recommendedSetting(scene({ frames })));
    expect(patient!.f.thirds).toBeGreaterThanOrEqual(hasty!.f.thirds);
    expect(patient!.iso.thirds).toBeLessThanOrEqual(hasty!.iso.thirds);
  });
});

describe('what is fixed', () => {
  const fixed = fc.constantFrom(
    { fNumber: 8 },
    { exposureTimeS: 1 / 250 },
    { iso: 800 },
    { fNumber: 11, iso: 400 },
  );
  const supports = fc.constantFrom('tripod', 'elbows', 'standing' as const);

  it('law: more light still asks for no higher ISO, and stiller air still lowers no odds', () => {
    fc.assert(
      fc.property(
        fixed,
        supports,
        fc.double({ min: 0.08, max: 1, noNaN: true }),
        fc.double({ min: 5, max: 13, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (fix, support, magnification, ev100, more, windMs, calm) => {
          const at = (ev: number, wind: number): Scene =>
            scene({
              fix,
              support: support as 'tripod',
              magnification,
              light: { kind: 'ev100', ev100: ev },
              windMs: wind,
            });
          const one = at(ev100, windMs);
          const setting = recommendedSetting(one);
          const brighter = recommendedSetting(at(ev100 + more, windMs));
          expect(brighter.iso.thirds).toBeLessThanOrEqual(setting.iso.thirds);
          const stiller = at(ev100, windMs * calm);
          const there = recommendedSetting(stiller);
          expect(sharpAt(stiller, there.f.exact, there.t.exact)).toBeGreaterThanOrEqual(
            sharpAt(one, setting.f.exact, setting.t.exact),
          );
        },
      ),
      { seed: 52, numRuns: 300 },
    );
  });
});

describe('the scene', () => {
  it('an insect moves with the plant and of itself: torpid as the plant, the livelier the fewer', () => {
    const at = (insect?: 'torpid' | 'resting' | 'feeding' | 'hovering'): number =>
      oddsAt(scene(insect === undefined ? {} : { insect }), 8, 1 / 256).sharp;
    expect(at('torpid')).toBe(at());
    expect(at('resting')).toBeLessThanOrEqual(at('torpid'));
    expect(at('feeding')).toBeLessThan(at('resting'));
    expect(at('hovering')).toBeLessThan(at('feeding'));
  });

  it('learned hands stand in for typical ones: steadier is better, and the range is as wide as is known', () => {
    const known = (median: number, logSpread: number): Scene =>
      scene({ learned: { hands: { median, logSpread, frames: 40 } } });
    const setting = recommendedSetting(scene());
    const at = (s: Scene): number => sharpAt(s, setting.f.exact, setting.t.exact);
    expect(at(known(1, 0.1))).toBe(at(scene()));
    expect(at(known(0.5, 0.1))).toBeGreaterThan(at(scene()));
    expect(at(known(2, 0.1))).toBeLessThan(at(scene()));
    const width = (s: Scene): number => {
      const [low, high] = sharpRange(s, setting);
      return high - low;
    };
    expect(width(known(1, 0.1))).toBeLessThan(width(scene()));
  });

  it('FS L-1 (cloudy, 30 degrees: 10.8 klx) and the sky model agree on the light within half a stop', () => {
    const sky = scene({ light: { kind: 'sky', sunAltitudeDeg: 30, dayOfYear: 172, cloudCover: 1 } });
    expect(Math.abs(sky.request.ev100 - Math.log2((10_800 * 100) / 250))).toBeLessThan(0.5);
    expect(sky.request.lossToAdd).toBe(true);
  });
});
