import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beaufortNumber, plantMotion, windOfBeaufortMs } from './beaufort.ts';
import {
  extinctionGoudriaan1977,
  topSpeedOverFriction,
  windExtinction,
  windInsideCanopyFactor,
} from './canopy.ts';
import {
  blendingFactor,
  blendingHeightM,
  fao56FactorTo2m,
  logProfileFactor,
  roughnessOfVegetation,
  roughnessRaupach1994,
  vonKarman,
} from './profile.ts';

const open = (roughnessLengthM: number) => ({ displacementM: 0, roughnessLengthM });

describe('profile above the ground', () => {
  it('gives 2.39 m/s at 2 m for 3.2 m/s at 10 m over grass (FS W-1, FAO-56 ex. 14)', () => {
    expect(3.2 * fao56FactorTo2m(10)).toBeCloseTo(2.393, 3);
    expect(fao56FactorTo2m(10)).toBeCloseTo(0.748, 3);
    expect(fao56FactorTo2m(3)).toBeCloseTo(0.921, 3);
    expect(fao56FactorTo2m(2)).toBeCloseTo(1, 2); // 1.0002: the standard's own rounding
    expect(5 * fao56FactorTo2m(10)).toBeCloseTo(3.74, 2);
    const grass = logProfileFactor({ heightM: 2, referenceHeightM: 10 }, roughnessOfVegetation(0.12));
    expect(3.2 * grass).toBeCloseTo(2.39, 2);
  });

  it.each([
    [2, 0.03, 0.7229],
    [2, 0.1, 0.6505],
    [0.5, 0.01, 0.5663],
  ])(
    'log law to %f m over z0 %f is %f (FS W-2, W-3; the parenthesis of mistake 3; sanity only)',
    (heightM, z0, expected) => {
      expect(logProfileFactor({ heightM, referenceHeightM: 10 }, open(z0))).toBeCloseTo(expected, 4);
    },
  );

  // Mistake 3: ln(z - d)/z0 instead of ln((z - d)/z0) would give another ratio once d is not 0.
  it('takes the displacement inside the logarithm (mistake 3)', () => {
    const meadow = roughnessOfVegetation(0.5);
    const factor = logProfileFactor({ heightM: 2, referenceHeightM: 10 }, meadow);
    const expected = Math.log((2 - 1 / 3) / 0.0615) / Math.log((10 - 1 / 3) / 0.0615);
    expect(factor).toBeCloseTo(expected, 12);
  });

  it.each([
    [0.5, 0.5581, 0.128],
    [1, 0.6585, 0.1092],
    [2, 0.7472, 0.0808],
    [4, 0.8182, 0.0581],
  ])('Raupach at plant area %f (FS W-5; sanity only)', (plantAreaIndex, d, z0) => {
    const ground = roughnessRaupach1994({ vegetationHeightM: 1, plantAreaIndex });
    expect(ground.displacementM).toBeCloseTo(d, 4);
    expect(ground.roughnessLengthM).toBeCloseTo(z0, 4);
  });

  it('Raupach agrees with itself at the top of the stand, which fixes the sign of 0.193 (FS W-6; mistake 2)', () => {
    const ground = roughnessRaupach1994({ vegetationHeightM: 0.5, plantAreaIndex: 2 });
    expect(0.28691 / ground.frictionOverTopSpeed).toBeCloseTo(0.9564, 4);
    expect(0.28691 * topSpeedOverFriction(0.5, ground)).toBeCloseTo(0.9564, 4);
  });

  it('rises with height, is 1 at the reference, and never negative or NaN', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        (one, other, vegetation) => {
          const ground = roughnessOfVegetation(vegetation);
          const factor = (heightM: number) => logProfileFactor({ heightM, referenceHeightM: 10 }, ground);
          expect(factor(10)).toBe(1);
          expect(factor(Math.min(one, other))).toBeGreaterThanOrEqual(0);
          expect(factor(Math.min(one, other))).toBeLessThanOrEqual(factor(Math.max(one, other)));
        },
      ),
      { seed: 4, numRuns: 200 },
    );
  });

  it('refuses a reference height inside the roughness', () => {
    expect(() => logProfileFactor({ heightM: 2, referenceHeightM: 10 }, roughnessOfVegetation(20))).toThrow(
      'for referenceHeightM but received 10',
    );
  });
});

describe('inside the stand', () => {
  it.each([
    [2, [0.2231, 0.3679, 0.6065]],
    [3, [0.1054, 0.2231, 0.4724]],
  ])('with extinction %f (FS W-7; sanity only)', (extinction, expected) => {
    [0.25, 0.5, 0.75].forEach((heightM, i) => {
      const factor = windInsideCanopyFactor({ heightM, vegetationHeightM: 1, extinction });
      expect(factor).toBeCloseTo(expected[i]!, 4);
    });
  });

  it.each([
    [1, 1.4446],
    [2, 2.3744],
    [3, 3.1986],
  ])('extinction of a 0.5 m stand with plant area %f (FS W-8; sanity only)', (plantAreaIndex, expected) => {
    const stand = { vegetationHeightM: 0.5, plantAreaIndex };
    expect(extinctionGoudriaan1977(stand, roughnessRaupach1994(stand))).toBeCloseTo(expected, 4);
  });

  it('goes from 4 m/s in the forecast to 0.28 half-way down a meadow (FS W-9; sanity only)', () => {
    const blended = 4 * blendingFactor({ forecastHeightM: 10, forecastRoughnessM: 0.03 });
    expect(blended).toBeCloseTo(5.2338, 4);
    const top =
      blended *
      logProfileFactor({ heightM: 0.5, referenceHeightM: blendingHeightM }, roughnessOfVegetation(0.5));
    expect(top).toBeCloseTo(0.7587, 4);
    const inside = windInsideCanopyFactor({
      heightM: 0.25,
      vegetationHeightM: 0.5,
      extinction: windExtinction.meadow,
    });
    expect(top * inside).toBeCloseTo(0.2791, 4);
  });

  it("goes to 0.35 by Raupach's roughness and his wind at the top (FS W-10; sanity only)", () => {
    const ground = roughnessRaupach1994({ vegetationHeightM: 0.5, plantAreaIndex: 2 });
    const blended = 4 * blendingFactor({ forecastHeightM: 10, forecastRoughnessM: 0.03 });
    const friction =
      (vonKarman * blended) / Math.log((blendingHeightM - ground.displacementM) / ground.roughnessLengthM);
    const top = friction / ground.frictionOverTopSpeed;
    expect(top).toBeCloseTo(0.9564, 3);
    expect(
      top * windInsideCanopyFactor({ heightM: 0.25, vegetationHeightM: 0.5, extinction: 2 }),
    ).toBeCloseTo(0.3518, 3);
  });
});

describe('words for wind', () => {
  it.each([
    [1, 0.84],
    [2, 2.36],
    [3, 4.34],
    [4, 6.69],
    [5, 9.35],
    [6, 12.29],
  ])('Beaufort %i is %f m/s, inside its own band (FS W-29)', (beaufort, expected) => {
    expect(windOfBeaufortMs(beaufort)).toBeCloseTo(expected, 2);
    expect(beaufortNumber(windOfBeaufortMs(beaufort))).toBe(beaufort);
  });

  it('has the bands of the scale', () => {
    expect([0, 0.29, 0.3, 1.6, 8, 32.6, 32.7, 90].map(beaufortNumber)).toEqual([0, 0, 1, 2, 5, 11, 12, 12]);
  });

  it('has four words for a plant (ours)', () => {
    expect([0, 0.19, 0.2, 0.5, 1, 9].map(plantMotion)).toEqual([
      'still',
      'still',
      'stirring',
      'nodding',
      'tossing',
      'tossing',
    ]);
    expect(() => plantMotion(NaN)).toThrow('but received NaN');
  });
});
