/** What a paper makes of a picture, before it is printed: the colours it will show, and those it cannot. */
import { makeProxy } from '../finish/finish-proxy.ts';
import type { LinearPicture } from '../develop/linear-picture.ts';
import { deltaE2000 } from './delta-e.ts';
import { xyzToLab } from './lab.ts';
import { apply, invert, type Triple } from './matrix.ts';
import { profileToXyz, xyzToProfile, type ProfileColours } from './profile-transform.ts';
import { rgbToProfileXyz, WORKING_SPACE } from './rgb-space.ts';
import { PROFILE_WHITE } from './white.ts';

/** A colour that comes back farther off than this is one the paper cannot show [ΔE00]. */
export const PAPER_CANNOT = 3;

export interface SoftProof {
  /** A small picture as the paper will show it (relative to its white), in the working space. */
  readonly picture: LinearPicture;
  /** 1 where the paper cannot show the colour, for each pixel of it. */
  readonly warnings: Uint8Array;
  /** Share of the picture that is so. */
  readonly share: number;
  /** The largest difference [ΔE00]. */
  readonly worst: number;
}

/**
 * Takes a small copy of the picture to the paper and back by the profile's own tables, relative to the paper's white.
 *
 * @param sidePx longer side of the copy
 * A profile without a way to the device gives a proof without warnings.
 */
export function softProof(picture: LinearPicture, profile: ProfileColours, sidePx = 400): SoftProof {
  const proxy = makeProxy(picture, sidePx);
  const toXyz = rgbToProfileXyz(WORKING_SPACE);
  const back = invert(toXyz);
  const { red, green, blue } = proxy;
  const warnings = new Uint8Array(red.length);
  let outside = 0;
  let worst = 0;
  for (let i = 0; i < red.length; i += 1) {
    const wanted = apply(toXyz, [shown(red[i]!), shown(green[i]!), shown(blue[i]!)]);
    const device = xyzToProfile(profile, wanted);
    const found: Triple = device === null ? wanted : profileToXyz(profile, device);
    const off = deltaE2000(xyzToLab(wanted, PROFILE_WHITE), xyzToLab(found, PROFILE_WHITE));
    if (off > PAPER_CANNOT) {
      warnings[i] = 1;
      outside += 1;
    }
    worst = Math.max(worst, off);
    [red[i], green[i], blue[i]] = apply(back, found) as [number, number, number];
  }
  return { picture: proxy, warnings, share: outside / red.length, worst };
}

/** Brighter than white is white on any paper. */
const shown = (light: number) => Math.min(1, light);
