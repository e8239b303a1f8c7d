/** Words for wind: the Beaufort number at 10 m, and our own four for a plant. */
import { requireInRange, requireNotNegative } from '../../domain-error.ts';

/** Lowest wind of each Beaufort number, 0 to 12 [m/s at 10 m]. WMO; from memory. */
const lowestOfBeaufortMs = [0, 0.3, 1.6, 3.4, 5.5, 8, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7];

/** Beaufort number, 0 to 12, of a mean wind at 10 m [m/s], at least 0. @throws DomainError @source WMO-No. 8 */
export function beaufortNumber(windSpeedMs: number): number {
  const v = requireNotNegative('windSpeedMs', windSpeedMs, 'm/s');
  return lowestOfBeaufortMs.findLastIndex((lowest) => v >= lowest);
}

/** Mean wind of a Beaufort number: v = 0.836 B^1.5 [m/s]. @param beaufort B, 0 to 12 @throws DomainError */
export function windOfBeaufortMs(beaufort: number): number {
  return 0.836 * requireInRange('beaufort', beaufort, { what: 'a Beaufort number', min: 0, max: 12 }) ** 1.5;
}

/** What a plant does in the wind, in the order of more wind. */
export const plantMotionWords = ['still', 'stirring', 'nodding', 'tossing'] as const;
export type PlantMotion = (typeof plantMotionWords)[number];

/**
 * The words' upper bounds, in mean wind at the plant [m/s]. Ours, from the sway of a thin stem with a 3 cm flower
 * (FS P-3 to P-6): below 0.2 the flower moves slower than a frame shows; at 1 only the turning points hold still.
 */
export const plantMotionBoundsMs = { still: 0.2, stirring: 0.5, nodding: 1 } as const;

/** The word for a mean wind at the plant [m/s], at least 0. @throws DomainError */
export function plantMotion(windAtPlantMs: number): PlantMotion {
  const u = requireNotNegative('windAtPlantMs', windAtPlantMs, 'm/s');
  if (u < plantMotionBoundsMs.still) return 'still';
  if (u < plantMotionBoundsMs.stirring) return 'stirring';
  return u < plantMotionBoundsMs.nodding ? 'nodding' : 'tossing';
}
