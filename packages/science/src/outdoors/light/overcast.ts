/** How an overcast sky spreads its light: what a flower's side gets against its top. */
import { requireInRange } from '../../domain-error.ts';

/**
 * Luminance of a patch of the overcast sky over that of the zenith: (1 + 2 sin g) / 3.
 *
 * @param altitudeDeg g, altitude of the patch [°], 0 to 90
 * @returns [1], 1/3 at the horizon
 * @throws DomainError outside the range
 * @source Moon and Spencer 1942, Illum. Eng. 37, 707; the CIE overcast sky
 */
export function overcastLuminanceRatio(altitudeDeg: number): number {
  const g = requireInRange('altitudeDeg', altitudeDeg, {
    what: 'an altitude',
    unit: 'degrees',
    min: 0,
    max: 90,
  });
  return (1 + 2 * Math.sin((g * Math.PI) / 180)) / 3;
}

/** Illuminance on the level over the zenith's luminance, overcast: 7 pi / 9 [lx per cd/m²]. Integral of the above. */
export const overcastLevelOverZenith = (7 * Math.PI) / 9;

/**
 * Illuminance on an upright face over that on the level, overcast, open half-sky, black ground: 0.3962, the integral
 * of the above over the half-sky, (pi/6 + 4/9) / (7 pi/9). A ground of albedo r adds r/2.
 */
export const overcastUprightOverLevel = (Math.PI / 6 + 4 / 9) / overcastLevelOverZenith;
