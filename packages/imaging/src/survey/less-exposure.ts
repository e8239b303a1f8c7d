/** How much less exposure would have kept what is burnt. */
import { requireInRange } from '@tepal/science';
import { checkImage, type Rgb8Image } from '../image.ts';
import { forEachWithin, linear } from './exposure-at-point.ts';

/** Thirds of a stop; `more` when the number is only what can be told, and more may have been needed. */
export interface LessExposure {
  readonly thirds: number;
  readonly more: boolean;
}

/** What may stay burnt: a glint on a drop is no loss. */
const LOST_FROM = 0.001;
/** Beyond two stops nothing can be told from what is left below. */
const MOST_THIRDS = 6;

/**
 * Thirds of a stop less that would have kept all but one pixel in a thousand.
 *
 * How bright the burnt was is gone; the tail of what is just below carries on: shares above a level fall as exp(-k x)
 * over x stops, with k from the third of a stop below the top.
 *
 *   x = ln(burnt / 0.001) / k        k = 3 ln(shareAbove(1/3) / burnt)
 *
 * @param burnt share at the top [0..1]
 * @param nearTop share within a third of a stop of the top, the burnt with it [burnt..1]
 * @returns 0 thirds where at most one in a thousand is burnt
 * @throws DomainError if a share is out of range
 * @source common practice, no source; checked on renderings whose truth goes beyond the top
 */
export function lessToKeep(burnt: number, nearTop: number): LessExposure {
  requireInRange('burnt', burnt, { what: 'a share', min: 0, max: 1 });
  requireInRange('nearTop', nearTop, { what: 'a share', min: burnt, max: 1 });
  if (burnt <= LOST_FROM) return { thirds: 0, more: false };
  const k = 3 * Math.log(nearTop / burnt);
  const thirds = k > 0 ? Math.ceil((3 * Math.log(burnt / LOST_FROM)) / k - 1e-9) : Infinity;
  return thirds > MOST_THIRDS ? { thirds: MOST_THIRDS, more: true } : { thirds, more: false };
}

/**
 * The same for each channel of an encoded picture, by the sRGB curve.
 *
 * @param crop encoded RGB around the point
 * @param radiusPx pixels farther than this from the crop's centre are left out
 * @throws DomainError if the image is malformed
 */
export function lessExposure(
  crop: Rgb8Image,
  radiusPx = Math.hypot(crop.width, crop.height),
): { readonly red: LessExposure; readonly green: LessExposure; readonly blue: LessExposure } {
  checkImage('crop', crop, 3);
  const near = linear.findIndex((value) => value >= 2 ** (-1 / 3));
  const burnt = [0, 0, 0];
  const nearTop = [0, 0, 0];
  let all = 0;
  forEachWithin(crop, radiusPx, (at) => {
    all++;
    for (let channel = 0; channel < 3; channel++) {
      const code = crop.data[at + channel]!;
      if (code >= near) nearTop[channel]!++;
      if (code === 255) burnt[channel]!++;
    }
  });
  const [red, green, blue] = burnt.map((count, i) =>
    lessToKeep(count / Math.max(1, all), nearTop[i]! / Math.max(1, all)),
  );
  return { red: red!, green: green!, blue: blue! };
}
