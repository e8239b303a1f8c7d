/** A camera's linear channels to a picture of the working space. */
import { DomainError, requirePositive } from '@tepal/science';
import type { Triple } from '../colour/matrix.ts';
import {
  balancedToWorking,
  daylightOfNeutral,
  gainsOfNeutral,
  neutralOfDaylight,
  type CameraMatrix,
} from './camera-colour.ts';
import { reconstructHighlights, type ReconstructedHighlights } from './highlights.ts';
import { blankPicture, planesOf, turnColours, type LinearPicture } from './linear-picture.ts';

/** What a decoder hands over: the demosaiced channels, black taken away, not balanced. */
export interface CameraPicture {
  readonly width: number;
  readonly height: number;
  /** Interleaved red, green, blue. */
  readonly data: Uint16Array;
  /** The code that counts as white in each channel: the sensor's white level, the same for every frame. */
  readonly whiteAt: Triple;
  /** The code at which each channel clips: its white level, or below where the sensor fills earlier. */
  readonly clipsAt: Triple;
  readonly xyzToCamera: CameraMatrix;
  /** What the channels answered to the white that the camera balanced for; null where the file does not say. */
  readonly asShotNeutral: Triple | null;
}

/** What is taken for white. */
export type WhiteBalance =
  | { readonly kind: 'asShot' }
  | { readonly kind: 'daylight'; readonly temperatureK: number }
  /** A place that is grey: its middle and radius as fractions of the picture's width and height (radius: of the width). */
  | { readonly kind: 'greyPatch'; readonly x: number; readonly y: number; readonly radius: number };

export interface Developed {
  readonly picture: LinearPicture;
  readonly highlights: ReconstructedHighlights;
  /** What was taken for white, green = 1. */
  readonly neutral: Triple;
  /** The daylight nearest to it [K]; null where there is none. */
  readonly temperatureK: number | null;
  /** Whether "as shot" was asked for and the file did not say: then daylight of 5,500 K was taken. */
  readonly balanceGuessed: boolean;
}

/** Taken where a file does not say what it was balanced for [K]: sun with some sky (common practice, no source). */
const USUAL_DAYLIGHT_K = 5500;

/**
 * Develops: white balance in the camera's channels, clipped highlights rebuilt, matrix to the working space. Grey at
 * the green channel's white level becomes 1.
 *
 * @throws DomainError if the picture is malformed, or the grey patch is dark or clipped
 */
export function developCamera(camera: CameraPicture, balance: WhiteBalance): Developed {
  const { width, height, data, whiteAt, clipsAt, xyzToCamera } = camera;
  if (data.length !== width * height * 3) {
    throw new DomainError('outOfRange', `${width * height * 3} samples`, 'data', `${data.length} samples`);
  }
  whiteAt.forEach((level, i) => requirePositive(`whiteAt[${i}]`, level));
  clipsAt.forEach((level, i) => requirePositive(`clipsAt[${i}]`, level));
  const guessed = balance.kind === 'asShot' && camera.asShotNeutral === null;
  const neutral = neutralOf(camera, balance);
  const gains = gainsOfNeutral(neutral);
  const picture = blankPicture(width, height);
  const planes = planesOf(picture);
  for (let c = 0; c < 3; c += 1) {
    const plane = planes[c]!;
    const scale = gains[c]! / whiteAt[c]!;
    for (let i = 0, at = c; i < plane.length; i += 1, at += 3) plane[i] = data[at]! * scale;
  }
  const clipped = gains.map((gain, c) => (gain * clipsAt[c]!) / whiteAt[c]!);
  const highlights = reconstructHighlights(picture, clipped as [number, number, number]);
  turnColours(picture, balancedToWorking(xyzToCamera, neutral));
  return {
    ...{ picture, highlights, neutral },
    temperatureK: daylightOfNeutral(xyzToCamera, neutral),
    balanceGuessed: guessed,
  };
}

function neutralOf(camera: CameraPicture, balance: WhiteBalance): Triple {
  switch (balance.kind) {
    case 'asShot':
      return camera.asShotNeutral ?? neutralOfDaylight(camera.xyzToCamera, USUAL_DAYLIGHT_K);
    case 'daylight':
      return neutralOfDaylight(camera.xyzToCamera, balance.temperatureK);
    case 'greyPatch':
      return neutralOfPatch(camera, balance);
  }
}

/** The mean of the channels over a round patch, each in shares of its white level. */
function neutralOfPatch(
  { width, height, data, whiteAt, clipsAt }: CameraPicture,
  patch: { readonly x: number; readonly y: number; readonly radius: number },
): Triple {
  const sums = [0, 0, 0];
  const count = overPatch(width, height, patch, (i) => {
    for (let c = 0; c < 3; c += 1) sums[c] = sums[c]! + data[3 * i + c]! / whiteAt[c]!;
  });
  const means = sums.map((sum) => sum / count);
  if (!means.every((mean, c) => mean > 0.002 && mean < (0.98 * clipsAt[c]!) / whiteAt[c]!)) {
    throw new DomainError(
      'outOfRange',
      'a patch that is neither black nor clipped in a channel',
      'greyPatch',
      means.map((mean) => `${(100 * mean).toFixed(1)} %`).join(', '),
    );
  }
  return means as unknown as Triple;
}

/**
 * Calls `take` for each pixel of a round patch.
 *
 * @returns how many there were, at least 1
 * @throws DomainError if the patch does not lie in the picture
 */
export function overPatch(
  width: number,
  height: number,
  patch: { readonly x: number; readonly y: number; readonly radius: number },
  take: (index: number) => void,
): number {
  const within = (value: number) => value >= 0 && value <= 1;
  if (!(within(patch.x) && within(patch.y) && patch.radius > 0 && patch.radius <= 0.5)) {
    throw new DomainError(
      'outOfRange',
      'x and y from 0 to 1 and a radius above 0 up to 0.5',
      'greyPatch',
      `${patch.x}, ${patch.y}, ${patch.radius}`,
    );
  }
  const cx = Math.min(width - 1, Math.floor(patch.x * width));
  const cy = Math.min(height - 1, Math.floor(patch.y * height));
  const radius = patch.radius * width;
  let count = 0;
  for (let y = Math.max(0, Math.ceil(cy - radius)); y <= Math.min(height - 1, cy + radius); y += 1) {
    for (let x = Math.max(0, Math.ceil(cx - radius)); x <= Math.min(width - 1, cx + radius); x += 1) {
      if ((x - cx) ** 2 + (y - cy) ** 2 > radius * radius) continue;
      count += 1;
      take(y * width + x);
    }
  }
  return count;
}
