import { exposeSchema } from '@tepal/formats';
import { chanceOfKeeper, DomainError, framesForKeeper, SUPPORT_MOTION } from '@tepal/science';
import fc from 'fast-check';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { exposureAdvice } from './exposure-advice.ts';
import { exposureField } from './field.ts';
import type { ExposureRequest } from './question/request.ts';
import { MEADOW_FLOWER } from './fixtures/meadow-flower.ts';

const base: ExposureRequest = { ...MEADOW_FLOWER, windMs: 1.2 };

describe('exposure advice', () => {
  it('is a document of the contract', () => {
    const document = exposureAdvice(base);
    expect(v.parse(exposeSchema, document).recommended.iso).toBe(document.recommended.iso);
    expect(document.alternatives).toHaveLength(2);
    expect(document.optics.workingDistanceMm).toBeNull();
    expect(document.odds.basis).toBe('typical');
    expect(document.odds.framesFor95).toBe(framesForKeeper(document.odds.sharp));
  });

  it('OI E-8 both ways round: a scene reading pays for focusing close, a reading through the lens has paid', () => {
    const lifeSize = { ...base, magnification: 1, subjectDepthMm: 1 };
    const scene = exposureAdvice({
      ...lifeSize,
      light: { kind: 'ev100', ev100: 12 },
      fix: { fNumber: 8, iso: 400 },
    });
    expect(scene.recommended.exposureTimeS).toBeCloseTo(1 / 64, 10);
    const metered = exposureAdvice({
      ...lifeSize,
      light: { kind: 'metered', fNumber: 8, exposureTimeS: 1 / 60, iso: 400 },
      fix: { fNumber: 8, iso: 400 },
    });
    expect(metered.recommended.exposureTimeNominalS).toBeCloseTo(1 / 60, 10);
    expect(metered.optics.lightLossStops).toBe(2);
    const lux = exposureAdvice({
      ...lifeSize,
      light: { kind: 'lux', illuminanceLux: 10240 },
      fix: { fNumber: 8, iso: 400 },
    });
    expect(lux.recommended.exposureTimeS).toBeCloseTo(1 / 64, 10);
  });

  it('by hand: what is fixed stands and the rest follows, with exact and marked values apart', () => {
    const { recommended } = exposureAdvice({ ...base, fix: { fNumber: 5.6, exposureTimeS: 1 / 250 } });
    expect(recommended.fNumber).toBe(5.6);
    expect(recommended.exposureTimeS).toBeCloseTo(1 / 256, 12);
    expect(recommended.exposureTimeNominalS).toBe(1 / 250);
    // 100 x 32 x 1.35^2 x 256 / 2^11 = 729: ISO 800 is 0.13 stop away, 640 is 0.19.
    expect(recommended.iso).toBe(800);
    const all = exposureAdvice({ ...base, fix: { fNumber: 5.6, exposureTimeS: 1 / 250, iso: 200 } });
    expect(all.cautions.join(' ')).toContain('underexpose by 1.9 stops');
    expect(all.alternatives).toEqual([]);
  });

  it('common practice, no source: f/5.6, ISO 400, 1/160 s at 0.3 by hand is workable in the lulls, not outside', () => {
    const overcast: ExposureRequest = {
      ...base,
      magnification: 0.3,
      light: { kind: 'metered', fNumber: 5.6, exposureTimeS: 1 / 160, iso: 400 },
      fix: { fNumber: 5.6, iso: 400, exposureTimeS: 1 / 160 },
    };
    const lightWind = exposureAdvice({ ...overcast, windMs: 1 });
    const lull = exposureAdvice({ ...overcast, windMs: 0.2 });
    // Workable: a burst or two, at most 30 frames. Not safe: more than anybody takes.
    expect(lull.odds.framesFor95).toBeLessThanOrEqual(30);
    expect(lightWind.odds.framesFor95 ?? Infinity).toBeGreaterThan(100);
    expect(lightWind.odds.waitForLullS).toBeGreaterThan(0);
  });

  it('offers a series when one frame cannot hold the subject, and none when it can', () => {
    const deep = exposureAdvice(base);
    expect(deep.focusSeries?.frames).toBeGreaterThan(1);
    expect(exposureAdvice({ ...base, subjectDepthMm: 0.5 }).focusSeries).toBeNull();
  });

  it('says so when no count can be promised', () => {
    const gale = exposureAdvice({
      ...base,
      windMs: 9,
      stem: 'wand',
      support: 'standing',
      magnification: 1,
      subjectDepthMm: 1,
    });
    expect(gale.odds.framesFor95).toBeNull();
    expect(gale.reasons[0]).toContain('No count');
  });

  it('knows whose hands they are, and is surer of its own', () => {
    const yours = exposureAdvice({ ...base, windMs: 0, hands: SUPPORT_MOTION.kneeling });
    const typical = exposureAdvice({ ...base, windMs: 0, support: 'kneeling' });
    expect(yours.odds.basis).toBe('yours');
    expect(yours.odds.sharp).toBe(typical.odds.sharp);
    const width = ([low, high]: readonly [number, number]): number => high - low;
    expect(width(yours.odds.sharpRange)).toBeLessThan(width(typical.odds.sharpRange));
  });

  it('frames close together count for less', () => {
    const { framesFor95, framesFor95Correlated } = exposureAdvice({
      ...base,
      windMs: 0.3,
      intervalS: 0.1,
    }).odds;
    expect(framesFor95Correlated).toBeGreaterThan(framesFor95!);
  });

  it.each([
    ['magnification -1', { magnification: -1 }, 'magnification'],
    ['max-f below min-f', { lens: { focalLengthMm: 100, minFNumber: 8, maxFNumber: 4 } }, 'maxF'],
    ['an f-number that the lens lacks', { fix: { fNumber: 1.4 } }, 'fix f'],
    [
      'a light that no ISO exposes',
      { fix: { fNumber: 32, exposureTimeS: 1 / 8000 }, light: { kind: 'ev100', ev100: 3 } },
      'fix',
    ],
    ['a wind of -1', { windMs: -1 }, 'wind'],
    ['a reading of 0 lx', { light: { kind: 'lux', illuminanceLux: 0 } }, 'lux'],
    ['no number at all', { subjectDepthMm: NaN }, 'subjectDepthMm'],
  ] as const)('refuses %s in one sentence', (_, own, name) => {
    const ask = (): unknown => exposureAdvice({ ...base, ...own } as ExposureRequest);
    expect(ask).toThrow(DomainError);
    expect(ask).toThrow(new RegExp(`^expected .* for ${name} but received `));
  });
});

const anyRequest: fc.Arbitrary<ExposureRequest> = fc
  .record({
    width: fc.constantFrom(36, 23.5, 17.3, 13.2),
    pixels: fc.integer({ min: 3000, max: 9500 }),
    f: fc.integer({ min: 30, max: 200 }),
    pupil: fc.double({ min: 0.4, max: 2, noNaN: true }),
    minF: fc.constantFrom(2, 2.8, 4),
    maxF: fc.constantFrom(16, 22, 32),
    m: fc.double({ min: 0.08, max: 1.2, noNaN: true }),
    depth: fc.double({ min: 0, max: 30, noNaN: true }),
    ev: fc.double({ min: 2, max: 16, noNaN: true }),
    wind: fc.double({ min: 0, max: 6, noNaN: true }),
    sway: fc.option(
      fc.record({
        amplitudeMm: fc.double({ min: 0, max: 30, noNaN: true }),
        frequencyHz: fc.double({ min: 0.2, max: 4, noNaN: true }),
      }),
    ),
    stem: fc.constantFrom('stiff', 'medium', 'wand' as const),
    support: fc.constantFrom('tripod', 'beanbag', 'elbows', 'kneeling', 'standing' as const),
    stabilisation: fc.integer({ min: 0, max: 6 }),
  })
  .map((a) => ({
    sensor: { widthMm: a.width, heightMm: (a.width * 2) / 3 },
    pixels: { width: a.pixels, height: Math.round((a.pixels * 2) / 3) },
    lens: { focalLengthMm: a.f, pupilMagnification: a.pupil, minFNumber: a.minF, maxFNumber: a.maxF },
    magnification: a.m,
    subjectDepthMm: a.depth,
    backgroundMm: 300,
    light: { kind: 'ev100', ev100: a.ev },
    ...(a.sway === null ? { windMs: a.wind } : { sway: a.sway }),
    stem: a.stem as 'stiff',
    support: a.support as 'tripod',
    stabilisation: a.stabilisation,
  }));

function everyNumber(value: unknown, visit: (x: number) => void): void {
  if (typeof value === 'number') visit(value);
  else if (value !== null && typeof value === 'object')
    Object.values(value).forEach((x) => everyNumber(x, visit));
}

// A thousand set-ups go through the command's own path, beside the command.
describe('laws', () => {
  it('no NaN and no infinity; odds within their range; the document is valid', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const d = exposureAdvice(request);
        everyNumber(d, (x) => expect(Number.isFinite(x)).toBe(true));
        expect(v.is(exposeSchema, d)).toBe(true);
        expect(d.odds.sharpRange[0]).toBeLessThanOrEqual(d.odds.sharp);
        expect(d.odds.sharpRange[1]).toBeGreaterThanOrEqual(d.odds.sharp);
        if (d.odds.framesFor95 !== null) {
          expect(chanceOfKeeper(d.odds.sharp, d.odds.framesFor95)).toBeGreaterThanOrEqual(0.95 - 1e-9);
        }
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('more light never needs a higher ISO', () => {
    fc.assert(
      fc.property(anyRequest, fc.double({ min: 0, max: 4, noNaN: true }), (request, more) => {
        const ev = request.light.kind === 'ev100' ? request.light.ev100 : 0;
        const brighter: ExposureRequest = { ...request, light: { kind: 'ev100', ev100: ev + more } };
        expect(exposureAdvice(brighter).recommended.iso).toBeLessThanOrEqual(
          exposureAdvice(request).recommended.iso,
        );
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  it('stiller air never lowers the odds', () => {
    fc.assert(
      fc.property(anyRequest, fc.double({ min: 0, max: 1, noNaN: true }), (request, share) => {
        const calmer: ExposureRequest =
          request.sway === undefined
            ? { ...request, windMs: request.windMs! * share }
            : { ...request, sway: { ...request.sway, amplitudeMm: request.sway.amplitudeMm * share } };
        expect(exposureAdvice(calmer).odds.sharp).toBeGreaterThanOrEqual(exposureAdvice(request).odds.sharp);
      }),
      { seed: 13, numRuns: 300 },
    );
  });

  it('a larger print never widens the depth, whatever the two sizes', () => {
    const size = fc.double({ min: 0.15, max: 4, noNaN: true });
    fc.assert(
      fc.property(anyRequest, size, size, (request, one, two) => {
        const at = (k: number): number => {
          const delivery = { widthMm: 420 * k, heightMm: 280 * k, viewingDistanceMm: 300 };
          return exposureAdvice({ ...request, delivery }).optics.depthOfFieldMm ?? Infinity;
        };
        expect(at(Math.max(one, two))).toBeLessThanOrEqual(at(Math.min(one, two)) * (1 + 1e-9));
      }),
      { seed: 14, numRuns: 300 },
    );
  });
});

describe('what a photographer would accept', () => {
  const at = (own: Partial<ExposureRequest>) => exposureAdvice({ ...base, ...own }).recommended;

  it('a beanbag in still air: as deep as diffraction lets a deep flower be, and ISO no higher than clean', () => {
    for (const ev100 of [10, 11, 13]) {
      const { fNumber, iso } = at({ support: 'beanbag', windMs: 0, light: { kind: 'ev100', ev100 } });
      expect(fNumber).toBeGreaterThanOrEqual(8);
      expect(iso).toBeLessThanOrEqual(1000);
    }
    expect(at({ support: 'tripod', windMs: 0, light: { kind: 'ev100', ev100: 14 } }).iso).toBe(100);
  });

  it('common practice, no source: by hand at 1:3 under an overcast sky f/8 or so, 1/200 s or faster, ISO 640 to 1600', () => {
    for (const support of ['kneeling', 'elbows'] as const) {
      const setting = at({ support, windMs: 0.3, light: { kind: 'ev100', ev100: 12 } });
      expect(setting.fNumber).toBeGreaterThanOrEqual(7.1);
      expect(setting.fNumber).toBeLessThanOrEqual(11);
      expect(setting.exposureTimeNominalS).toBeLessThanOrEqual(1 / 125);
      expect(setting.iso).toBeGreaterThanOrEqual(400);
      expect(setting.iso).toBeLessThanOrEqual(1600);
    }
  });

  it('does not raise ISO where it wins nothing: at life size in bright light depth, not time, is short', () => {
    const { iso } = at({ magnification: 1, subjectDepthMm: 3, light: { kind: 'ev100', ev100: 14 } });
    expect(iso).toBeLessThanOrEqual(1600);
  });

  it('keeps the ceiling and the slowest shutter that it is given', () => {
    const dusk: Partial<ExposureRequest> = { light: { kind: 'ev100', ev100: 7 }, support: 'standing' };
    expect(at({ ...dusk, isoCeiling: 1600 }).iso).toBeLessThanOrEqual(1600);
    expect(
      at({ ...dusk, isoCeiling: 800, slowestShutterS: 1 / 60 }).exposureTimeNominalS,
    ).toBeLessThanOrEqual(1 / 60);
  });
});

describe('the field', () => {
  it('covers shutter by aperture; the recommended setting is one of its points', () => {
    const field = exposureField(base);
    const { recommended, odds } = exposureAdvice(base);
    const row = field.exposureTimesS.indexOf(recommended.exposureTimeNominalS);
    const column = field.fNumbers.indexOf(recommended.fNumber);
    expect(field.rows[row]![column]!.sharp).toBe(odds.sharp);
    expect(field.rows).toHaveLength(field.exposureTimesS.length);
  });
});
