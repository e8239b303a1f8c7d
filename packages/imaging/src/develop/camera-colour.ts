/** From a camera's own colours to the working space: its matrix, and what it takes for white. */
import { DomainError, requirePositive } from '@tepal/science';
import { apply, diagonal, invert, multiply, type Matrix3, type Triple } from '../colour/matrix.ts';
import { daylightChromaticity, temperatureHernandez1999 } from '../colour/daylight.ts';
import { rgbToXyz, WORKING_SPACE } from '../colour/rgb-space.ts';
import { adaptation, chromaticityOf, D65, xyzOfChromaticity } from '../colour/white.ts';

/**
 * How a camera sees: XYZ to its linear channels, as measured under daylight (D65 unless the file says otherwise), its
 * rows in any scale.
 */
export type CameraMatrix = Matrix3;

/**
 * What the camera's channels answer to a white of daylight, green = 1.
 *
 * @param temperatureK 4,000 to 25,000 K
 * @throws DomainError outside that range, or if the matrix makes white of no light
 */
export function neutralOfDaylight(xyzToCamera: CameraMatrix, temperatureK: number): Triple {
  return normalised(apply(xyzToCamera, xyzOfChromaticity(daylightChromaticity(temperatureK))));
}

/**
 * The daylight nearest to what the camera took for white [K], for the display of "as shot"; null where it is none
 * between 2,000 and 50,000 K.
 */
export function daylightOfNeutral(xyzToCamera: CameraMatrix, neutral: Triple): number | null {
  const temperature = temperatureHernandez1999(chromaticityOf(apply(invert(xyzToCamera), neutral)));
  return temperature >= 2000 && temperature <= 50_000 ? Math.round(temperature) : null;
}

/**
 * The gains that make a grey grey: green keeps its own, the others are brought to it.
 *
 * @param neutral the camera's (or the picture's) channels on something grey, > 0
 * @throws DomainError if one is not positive
 */
export function gainsOfNeutral(neutral: Triple): Triple {
  const [r, g, b] = normalised(neutral);
  return [1 / r, 1 / g, 1 / b];
}

/**
 * Balanced camera channels to the working space, so that grey stays grey.
 *
 * The camera's matrix is turned so that its answer to its own white is (1 1 1): camera → XYZ under the scene's white →
 * XYZ under D65 by Bradford → working space. It is exact for a camera that obeys Luther's condition, whatever the
 * light; for real ones it is right on greys and near on colours.
 *
 * @param neutral what the channels answered to the scene's white
 * @throws DomainError if the matrix cannot be inverted
 */
export function balancedToWorking(xyzToCamera: CameraMatrix, neutral: Triple): Matrix3 {
  const [r, g, b] = normalised(neutral);
  const cameraToXyz = invert(xyzToCamera);
  const white = apply(cameraToXyz, [r, g, b]);
  if (!(white[1] > 0)) {
    throw new DomainError(
      'outOfRange',
      "a white that the camera's matrix can see",
      'neutral',
      neutral.join(' '),
    );
  }
  const scaled = white.map((value) => value / white[1]) as unknown as Triple;
  const xyzToWorking = invert(rgbToXyz(WORKING_SPACE));
  const toWorking = multiply(
    xyzToWorking,
    multiply(adaptation(scaled, xyzOfChromaticity(D65)), multiply(cameraToXyz, diagonal([r, g, b]))),
  );
  // White of the camera at 1 is white of the picture at 1.
  const [k] = apply(toWorking, [1, 1, 1]);
  return toWorking.map((value) => value / k) as unknown as Matrix3;
}

/**
 * The change of white for a picture that is already rendered: seen as if lit by daylight of another temperature than
 * the 6,504 K that it was rendered for. A lower one takes warmth away. @throws DomainError outside 4,000 to 25,000 K
 */
export function rebalanceRendered(temperatureK: number): Matrix3 {
  const toXyz = rgbToXyz(WORKING_SPACE);
  const from = xyzOfChromaticity(daylightChromaticity(temperatureK));
  return multiply(invert(toXyz), multiply(adaptation(from, xyzOfChromaticity(D65)), toXyz));
}

function normalised(neutral: Triple): Triple {
  neutral.forEach((value, i) => requirePositive(`neutral[${i}]`, value));
  const g = neutral[1];
  return [neutral[0] / g, 1, neutral[2] / g];
}
