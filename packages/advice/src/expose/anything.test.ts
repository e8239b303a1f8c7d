// Whatever is asked: an answer of finite numbers, or one sentence that says what is not accepted.
import { exposeSchema } from '@tepal/formats';
import { DomainError, F_NUMBER_DIAL, ISO_DIAL, SHUTTER_DIAL } from '@tepal/science';
import fc from 'fast-check';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { exposureAdvice } from './exposure-advice.ts';
import { exposureField } from './field.ts';
import type { LightReading } from './question/light.ts';
import type { ExposureRequest } from './question/request.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const some = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined });
const factor = fc.record({ median: number(0.02, 50), logSpread: number(0, 2), frames: fc.nat(1000) });
const setting = {
  fNumber: fc.constantFrom(1, 2.8, 7, 64),
  exposureTimeS: fc.constantFrom(30, 1, 1 / 60, 1 / 8000),
  iso: fc.constantFrom(50, 800, 102_400),
};

const light: fc.Arbitrary<LightReading> = fc.oneof(
  fc.record({ kind: fc.constant('ev100' as const), ev100: number(-10, 22) }),
  fc.record({ kind: fc.constant('lux' as const), illuminanceLux: number(1e-3, 2e5) }),
  fc.record({
    kind: fc.constant('sky' as const),
    sunAltitudeDeg: number(-18, 90),
    dayOfYear: fc.integer({ min: 1, max: 366 }),
    cloudCover: number(0, 1),
  }),
  fc.record({ kind: fc.constant('metered' as const), ...setting }),
  fc.record({ kind: fc.constant('testShot' as const), ...setting, brighterByStops: number(-5, 5) }),
);

const marks = (dial: readonly { readonly marked: number }[]) =>
  fc.constantFrom(...dial.map(({ marked }) => marked));

/** Drops what is undefined, as a caller would leave it out. */
const without = <T extends object>(of: fc.Arbitrary<T>) =>
  of.map((one) => Object.fromEntries(Object.entries(one).filter(([, value]) => value !== undefined)));

const anything = without(
  fc.record({
    sensor: fc.record({ widthMm: number(3, 60), heightMm: number(2, 45) }),
    pixels: fc.record({
      width: fc.integer({ min: 16, max: 20_000 }),
      height: fc.integer({ min: 16, max: 15_000 }),
    }),
    lens: without(
      fc.record({
        focalLengthMm: number(5, 800),
        pupilMagnification: some(number(0.05, 20)),
        minFNumber: some(number(0.7, 8)),
        maxFNumber: some(number(8, 90)),
        frontToSensorMm: some(number(10, 500)),
      }),
    ),
    magnification: number(0.001, 20),
    subjectDepthMm: fc.oneof(fc.constant(0), number(0, 500)),
    backgroundMm: number(0, 1e5),
    light,
    windMs: some(number(0, 40)),
    stem: some(fc.constantFrom('stiff', 'medium', 'wand')),
    sway: some(fc.record({ amplitudeMm: number(0, 2000), frequencyHz: number(0, 100) })),
    insect: some(fc.constantFrom('torpid', 'resting', 'feeding', 'hovering')),
    support: some(fc.constantFrom('tripod', 'beanbag', 'elbows', 'kneeling', 'standing')),
    learned: some(without(fc.record({ hands: some(factor), plant: some(factor), wind: some(factor) }))),
    stabilisation: some(number(0, 10)),
    fix: some(
      without(
        fc.record({
          fNumber: some(marks(F_NUMBER_DIAL)),
          exposureTimeS: some(marks(SHUTTER_DIAL)),
          iso: some(marks(ISO_DIAL)),
        }),
      ),
    ),
    camera: some(fc.constantFrom('aperturePreferred', 'manual')),
    frames: some(fc.integer({ min: 1, max: 500 })),
    delivery: some(
      fc.record({
        widthMm: number(10, 5000),
        heightMm: number(10, 5000),
        viewingDistanceMm: number(50, 10_000),
      }),
    ),
    slowestShutterS: some(number(1e-4, 60)),
    isoCeiling: some(number(25, 1e6)),
    intervalS: some(number(0, 100)),
  }),
) as fc.Arbitrary<ExposureRequest>;

function everyNumber(value: unknown, visit: (x: number) => void): void {
  if (typeof value === 'number') visit(value);
  else if (value !== null && typeof value === 'object')
    Object.values(value).forEach((x) => everyNumber(x, visit));
}

describe('whatever is asked', () => {
  it('gets finite numbers or one sentence', () => {
    let answered = 0;
    fc.assert(
      fc.property(anything, (request) => {
        try {
          const document = exposureAdvice(request);
          everyNumber(document, (x) => expect(Number.isFinite(x)).toBe(true));
          expect(v.is(exposeSchema, document)).toBe(true);
          everyNumber(exposureField(request), (x) => expect(Number.isFinite(x)).toBe(true));
          answered++;
        } catch (error) {
          if (!(error instanceof DomainError)) throw error;
          expect(error.message).toMatch(/^expected .+ for .+ but received .+$/);
        }
      }),
      { seed: 61, numRuns: 400 },
    );
    expect(answered).toBeGreaterThan(100);
  }, 120_000);
});
