/** Oklab: lightness, and two axes in which lines from grey keep their hue, blue and violet among them. */
import { invert, multiply, type Matrix3, type Triple } from './matrix.ts';
import { RGB_SPACES, rgbToXyz, WORKING_SPACE, type RgbSpace } from './rgb-space.ts';

/**
 * Cone-like responses from linear sRGB, and Oklab from their cube roots.
 *
 * @source Ottosson 2020, A perceptual color space for image processing (from memory; checked against its table of
 * four XYZ and Oklab pairs)
 */
const FROM_SRGB: Matrix3 = [
  ...[0.4122214708, 0.5363325363, 0.0514459929],
  ...[0.2119034982, 0.6806995451, 0.1073969566],
  ...[0.0883024619, 0.2817188376, 0.6299787005],
] as unknown as Matrix3;
const TO_LAB: Matrix3 = [
  ...[0.2104542553, 0.793617785, -0.0040720468],
  ...[1.9779984951, -2.428592205, 0.4505937099],
  ...[0.0259040371, 0.7827717662, -0.808675766],
] as unknown as Matrix3;
const FROM_LAB = invert(TO_LAB);

/** Linear RGB of a space to the cone-like responses. The space's white is that of sRGB. */
export function coneMatrix(space: RgbSpace): Matrix3 {
  const toSrgb = multiply(invert(rgbToXyz(RGB_SPACES.srgb)), rgbToXyz(space));
  return multiply(FROM_SRGB, toSrgb);
}

/** Cone-like responses to Oklab; L 0 black to 1 white. */
export function conesToOklab([l, m, s]: Triple): Triple {
  const [l3, m3, s3] = [Math.cbrt(l), Math.cbrt(m), Math.cbrt(s)];
  const t = TO_LAB;
  return [
    t[0] * l3 + t[1] * m3 + t[2] * s3,
    t[3] * l3 + t[4] * m3 + t[5] * s3,
    t[6] * l3 + t[7] * m3 + t[8] * s3,
  ];
}

/** Oklab to the cube roots of the cone-like responses. */
export function oklabToConeRoots([L, a, b]: Triple): Triple {
  const t = FROM_LAB;
  return [t[0] * L + t[1] * a + t[2] * b, t[3] * L + t[4] * a + t[5] * b, t[6] * L + t[7] * a + t[8] * b];
}

/** Oklab to the cone-like responses. */
export function oklabToCones(lab: Triple): Triple {
  const [l, m, s] = oklabToConeRoots(lab);
  return [l ** 3, m ** 3, s ** 3];
}

const workingToCones = coneMatrix(WORKING_SPACE);

/** Linear RGB of the working space to Oklab. */
export function workingToOklab([r, g, b]: Triple): Triple {
  const t = workingToCones;
  return conesToOklab([
    t[0] * r + t[1] * g + t[2] * b,
    t[3] * r + t[4] * g + t[5] * b,
    t[6] * r + t[7] * g + t[8] * b,
  ]);
}
