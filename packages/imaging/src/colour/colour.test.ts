// Colour against published numbers (OI section 8) and the laws of the transforms.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  daylightChromaticity,
  miredShift,
  temperatureHernandez1999,
  temperatureMcCamy1992,
} from './daylight.ts';
import { deltaE1976, deltaE2000 } from './delta-e.ts';
import { chromaAndHue, labToXyz, xyzToLab } from './lab.ts';
import { apply, invert, multiply, type Matrix3, type Triple } from './matrix.ts';
import { conesToOklab, oklabToCones, workingToOklab } from './oklab.ts';
import { RGB_SPACES, rgbToProfileXyz, rgbToRgb, rgbToXyz, WORKING_SPACE } from './rgb-space.ts';
import { createEncoder, decodeTransfer, encodeTransfer, type Transfer } from './transfer.ts';
import { adaptation, D50, D65, xyzOfChromaticity } from './white.ts';

const { srgb, displayP3, adobeRgb, proPhoto } = RGB_SPACES;
const close = (found: readonly number[], wanted: readonly number[], tolerance: number) => {
  expect(found.length).toBe(wanted.length);
  wanted.forEach((value, i) => expect(Math.abs(found[i]! - value), `${i}`).toBeLessThanOrEqual(tolerance));
};
const ASTM_D65: Triple = [0.95047, 1, 1.08883];
const ASTM_D50: Triple = [0.96422, 1, 0.82521];
const each = (f: (v: number) => number, [a, b, c]: Triple): Triple => [f(a), f(b), f(c)];
const fromSrgb = (codes: Triple): Triple => each((v) => decodeTransfer('srgb', v), codes);

describe('RGB spaces', () => {
  it.each([
    // OI C-1 to C-3, from the W3C's CSS Color 4 sample code; tolerance half the last digit given.
    [
      'sRGB',
      srgb,
      [
        0.4123907993, 0.3575843394, 0.1804807884, 0.2126390059, 0.7151686788, 0.0721923154, 0.0193308187,
        0.1191947798, 0.9505321522,
      ],
    ],
    [
      'Display P3',
      displayP3,
      [
        0.4865709486, 0.2656676932, 0.1982172852, 0.2289745641, 0.6917385218, 0.0792869141, 0, 0.0451133819,
        1.0439443689,
      ],
    ],
    [
      'Adobe RGB',
      adobeRgb,
      [
        0.5766690429, 0.1855582379, 0.1882286462, 0.2973449753, 0.6273635663, 0.0752914585, 0.0270313614,
        0.0706888525, 0.9913375368,
      ],
    ],
  ] as const)('C-1..C-3: %s to XYZ', (_name, space, wanted) => {
    close(rgbToXyz(space), wanted, 1e-9);
  });

  it.each([
    // OI C-4: encoded sRGB (0, 0.5, 0); 1e-5, for ROMM 5e-5 (its primaries are given with fewer digits).
    ['Display P3', displayP3, [0.2150833, 0.4922482, 0.1308565], 1e-5],
    ['Adobe RGB', adobeRgb, [0.2802848, 0.4961037, 0.1162985], 1e-5],
    ['ROMM', proPhoto, [0.2294429, 0.3939256, 0.1293408], 5e-5],
  ] as const)('C-4: half green of sRGB in %s', (_name, space, wanted, tolerance) => {
    const linear = apply(rgbToRgb(srgb, space), fromSrgb([0, 0.5, 0]));
    close(
      each((v) => encodeTransfer(space.transfer, v), linear),
      wanted,
      tolerance,
    );
  });

  it('C-5: #008000 in CIELAB under D50, with both kinds of white', () => {
    const linear = fromSrgb([0, 128 / 255, 0]);
    const four = apply(
      adaptation(xyzOfChromaticity(D65), xyzOfChromaticity(D50)),
      apply(rgbToXyz(srgb), linear),
    );
    close(xyzToLab(four, xyzOfChromaticity(D50)), [46.2777, -47.5524, 48.5863], 2e-3);
    const astm = apply(adaptation(ASTM_D65, ASTM_D50), apply(withWhite(rgbToXyz(srgb), ASTM_D65), linear));
    close(xyzToLab(astm, ASTM_D50), [46.2779, -47.5625, 48.5841], 2e-3);
  });

  it('C-6: red and blue of sRGB in CIELAB under D50', () => {
    const lab = (rgb: Triple) =>
      xyzToLab(
        apply(multiply(adaptation(xyzOfChromaticity(D65), xyzOfChromaticity(D50)), rgbToXyz(srgb)), rgb),
        xyzOfChromaticity(D50),
      );
    close(lab([1, 0, 0]), [54.2905, 80.8049, 69.891], 1e-4);
    close(lab([0, 0, 1]), [29.5683, 68.2874, -112.0297], 1e-4);
  });

  it('C-8: red of P3 and green of Adobe RGB in linear sRGB', () => {
    close(apply(rgbToRgb(displayP3, srgb), [1, 0, 0]), [1.2249402, -0.042057, -0.0196376], 1e-7);
    close(apply(rgbToRgb(adobeRgb, srgb), [0, 1, 0]), [-0.3983557, 1, -0.042929], 1e-7);
  });

  it('is stored in profiles with its usual colorants (OI 8.4, Lindbloom)', () => {
    const wanted = [
      ...[0.4360747, 0.3850649, 0.1430804],
      ...[0.2225045, 0.7168786, 0.0606169],
      ...[0.0139322, 0.0971045, 0.7141733],
    ];
    close(multiply(adaptation(ASTM_D65, ASTM_D50), withWhite(rgbToXyz(srgb), ASTM_D65)), wanted, 1e-7);
    // Ours ends at the profile's white, whose Z is 0.8249 and not 0.82521, and begins at a white of four figures.
    close(rgbToProfileXyz(srgb), wanted, 4e-4);
  });

  it('gives white as white whatever the space, and comes back', () => {
    for (const space of [srgb, displayP3, adobeRgb, proPhoto, WORKING_SPACE]) {
      close(apply(rgbToRgb(space, WORKING_SPACE), [1, 1, 1]), [1, 1, 1], 1e-12);
      close(multiply(rgbToRgb(space, srgb), rgbToRgb(srgb, space)), [1, 0, 0, 0, 1, 0, 0, 0, 1], 1e-12);
    }
  });
});

/** The same primaries scaled to another white: what the four-figure matrix would be with the ASTM one. */
function withWhite(matrix: Matrix3, white: Triple): Matrix3 {
  const scale = apply(multiply(invert(matrix), [white[0], 0, 0, 0, white[1], 0, 0, 0, white[2]]), [1, 1, 1]);
  return multiply(matrix, [scale[0], 0, 0, 0, scale[1], 0, 0, 0, scale[2]]);
}

describe('transfer functions', () => {
  it('C-7: V 0.5 to light; 18 % grey to 8 bit', () => {
    expect(decodeTransfer('srgb', 0.5)).toBeCloseTo(0.21404114, 8);
    expect(Math.abs(255 * encodeTransfer('srgb', 0.18) - 117.65)).toBeLessThan(0.01);
  });

  it('come back, rise, and mirror below black', () => {
    const transfers: Transfer[] = ['srgb', 'adobeRgb', 'romm', 'linear'];
    fc.assert(
      fc.property(fc.double({ min: -1.5, max: 1.5, noNaN: true }), fc.constantFrom(...transfers), (v, t) => {
        // 1e-6: at sRGB's knee the two rounded constants leave a step of 2e-8.
        expect(Math.abs(encodeTransfer(t, decodeTransfer(t, v)) - v)).toBeLessThan(1e-6);
        expect(decodeTransfer(t, -v)).toBeCloseTo(-decodeTransfer(t, v), 12);
        expect(decodeTransfer(t, v + 0.01)).toBeGreaterThan(decodeTransfer(t, v));
      }),
      { seed: 6 },
    );
  });

  it('by the quick table is within half a 16-bit code of the curve', () => {
    for (const t of ['srgb', 'adobeRgb', 'romm', 'linear'] as const) {
      const encode = createEncoder(t);
      let worst = 0;
      for (let i = 0; i <= 100_000; i += 1) {
        const light = (i / 100_000) ** 3;
        worst = Math.max(worst, Math.abs(encode(light) - encodeTransfer(t, light)));
      }
      expect(worst * 65_535, t).toBeLessThan(0.5);
    }
  });
});

describe('white points', () => {
  it.each([
    [4000, 0.382343625, 0.383766261],
    [7000, 0.305357431, 0.321646345],
    [25_000, 0.24985367, 0.254799464],
  ])('C-9: daylight at %d K', (temperature, x, y) => {
    const found = daylightChromaticity(temperature);
    close([found.x, found.y], [x, y], 1e-9);
  });

  it('C-10: daylight at the temperatures of D65 and D55', () => {
    const d65 = daylightChromaticity(6503.616);
    close([d65.x, d65.y], [0.31272, 0.32913], 1e-5);
    const d55 = daylightChromaticity(5503.06);
    close([d55.x, d55.y], [0.33243, 0.34754], 1e-5);
  });

  it('C-11, C-12: temperatures of D65 and of a lamp', () => {
    const lamp = { x: 0.44757, y: 0.40745 };
    expect(Math.abs(temperatureMcCamy1992(D65) - 6505.0806)).toBeLessThan(1e-4);
    expect(Math.abs(temperatureMcCamy1992(lamp) - 2857.2896)).toBeLessThan(1e-4);
    expect(Math.abs(temperatureHernandez1999(D65) - 6500.742)).toBeLessThan(1e-4);
    expect(Math.abs(temperatureHernandez1999(lamp) - 2790.6422)).toBeLessThan(1e-4);
  });

  it('C-13, C-14: Bradford from D65 to D50, with both kinds of white', () => {
    close(
      adaptation(xyzOfChromaticity(D65), xyzOfChromaticity(D50)),
      [
        1.0479297925, 0.0229468706, -0.0501922663, 0.0296278088, 0.9904344268, -0.0170737991, -0.0092430406,
        0.0150551915, 0.7518742814,
      ],
      1e-9,
    );
    close(
      adaptation(ASTM_D65, ASTM_D50),
      [1.0478112, 0.0228866, -0.050127, 0.0295424, 0.9904844, -0.0170491, -0.0092345, 0.0150436, 0.7521316],
      1e-7,
    );
  });

  it('C-15: a white of 16,000 K, and D50 seen as if D160 were D65 (5e-4; 5 K)', () => {
    const d160 = daylightChromaticity(16_000);
    close([d160.x, d160.y], [0.2594, 0.2677], 5e-4);
    const xyz = xyzOfChromaticity(d160);
    close(xyz, [0.9693, 1, 1.7666], 5e-4);
    const [X, Y, Z] = apply(adaptation(xyz, xyzOfChromaticity(D65)), xyzOfChromaticity(D50));
    close([X / Y, 1, Z / Y], [0.9962, 1, 0.5012], 5e-4);
    const sum = X + Y + Z;
    expect(Math.abs(temperatureMcCamy1992({ x: X / sum, y: Y / sum }) - 3718)).toBeLessThan(5);
  });

  it('C-16: from sun to shade in mired', () => {
    expect(miredShift(5500, 7500)).toBeCloseTo(-48.485, 3);
  });
});

// OI C-17: Sharma, Wu and Dalal 2005, supplementary data: L1 a1 b1 L2 a2 b2 ΔE00; tolerance 1e-4, its last digit.
const SHARMA = `
50.0000 2.6772 -79.7751 50.0000 0.0000 -82.7485 2.0425
50.0000 3.1571 -77.2803 50.0000 0.0000 -82.7485 2.8615
50.0000 2.8361 -74.0200 50.0000 0.0000 -82.7485 3.4412
50.0000 -1.3802 -84.2814 50.0000 0.0000 -82.7485 1.0000
50.0000 -1.1848 -84.8006 50.0000 0.0000 -82.7485 1.0000
50.0000 -0.9009 -85.5211 50.0000 0.0000 -82.7485 1.0000
50.0000 0.0000 0.0000 50.0000 -1.0000 2.0000 2.3669
50.0000 -1.0000 2.0000 50.0000 0.0000 0.0000 2.3669
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0009 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0010 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0011 7.2195
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0012 7.2195
50.0000 -0.0010 2.4900 50.0000 0.0009 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0010 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0011 -2.4900 4.7461
50.0000 2.5000 0.0000 50.0000 0.0000 -2.5000 4.3065
50.0000 2.5000 0.0000 73.0000 25.0000 -18.0000 27.1492
50.0000 2.5000 0.0000 61.0000 -5.0000 29.0000 22.8977
50.0000 2.5000 0.0000 56.0000 -27.0000 -3.0000 31.9030
50.0000 2.5000 0.0000 58.0000 24.0000 15.0000 19.4535
50.0000 2.5000 0.0000 50.0000 3.1736 0.5854 1.0000
50.0000 2.5000 0.0000 50.0000 3.2972 0.0000 1.0000
50.0000 2.5000 0.0000 50.0000 1.8634 0.5757 1.0000
50.0000 2.5000 0.0000 50.0000 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082`;

describe('difference of colours', () => {
  const pairs = SHARMA.trim()
    .split('\n')
    .map((line) => line.split(' ').map(Number));

  it('C-17: CIEDE2000 of all 34 pairs, and the same the other way round', () => {
    expect(pairs.length).toBe(34);
    for (const [i, [L1, a1, b1, L2, a2, b2, wanted]] of pairs.entries()) {
      const one: Triple = [L1!, a1!, b1!];
      const other: Triple = [L2!, a2!, b2!];
      expect(Math.abs(deltaE2000(one, other) - wanted!), `pair ${i + 1}`).toBeLessThan(1e-4);
      expect(deltaE2000(other, one)).toBeCloseTo(deltaE2000(one, other), 10);
    }
  });

  it('is 0 for a colour and itself, by both formulas', () => {
    expect(deltaE2000([50, 20, -30], [50, 20, -30])).toBe(0);
    expect(deltaE1976([50, 3, 4], [50, 0, 0])).toBe(5);
  });
});

describe('Lab and Oklab', () => {
  const colour = fc.tuple(
    ...([0, 1, 2].map(() => fc.double({ min: 0, max: 1, noNaN: true })) as [
      fc.Arbitrary<number>,
      fc.Arbitrary<number>,
      fc.Arbitrary<number>,
    ]),
  );

  it('come back', () => {
    fc.assert(
      fc.property(colour, (rgb) => {
        const xyz = apply(rgbToXyz(srgb), rgb);
        close(labToXyz(xyzToLab(xyz, xyzOfChromaticity(D65)), xyzOfChromaticity(D65)), xyz, 1e-12);
        close(oklabToCones(conesToOklab(xyz)), xyz, 1e-9);
      }),
      { seed: 6 },
    );
  });

  it('Oklab of the author’s four XYZ (Ottosson 2020, from memory, half the last printed digit)', () => {
    const toWorking = invert(rgbToXyz(WORKING_SPACE));
    const table: readonly (readonly [Triple, Triple])[] = [
      [
        [0.95, 1, 1.089],
        [1, 0, 0],
      ],
      [
        [1, 0, 0],
        [0.45, 1.236, -0.019],
      ],
      [
        [0, 1, 0],
        [0.922, -0.671, 0.263],
      ],
      [
        [0, 0, 1],
        [0.153, -1.415, -0.449],
      ],
    ];
    for (const [xyz, lab] of table) close(workingToOklab(apply(toWorking, xyz)), lab, 1e-3);
  });

  it('knows chroma and hue', () => {
    const found = chromaAndHue([50, 0, -10]);
    expect(found.chroma).toBeCloseTo(10, 12);
    expect(found.hueDeg).toBeCloseTo(270, 12);
  });
});
