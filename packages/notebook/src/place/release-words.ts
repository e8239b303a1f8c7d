/** What leaves of a place, in words. */
import type { ReleasedPlace } from './release.ts';

/**
 * How exact a released place is: "0.01° cell, ± 660 m", "the exact place", "withheld".
 *
 * @param place from `release`
 */
export function releasedInWords(place: ReleasedPlace): string {
  if (place.kind === 'withheld')
    return place.informationWithheld === null ? 'no place was noted' : 'withheld';
  if (place.kind === 'exact') return 'the exact place';
  const step = place.coordinatePrecision;
  const uncertainty = place.coordinateUncertaintyInMeters;
  if (step === undefined || uncertainty === undefined) return place.regionName ?? 'the region';
  const metres =
    uncertainty >= 10_000 ? `${Math.round(uncertainty / 1000)} km` : `${Math.round(uncertainty)} m`;
  return `${step}° cell, ± ${metres}`;
}
