/** The place for which the outdoors is computed, checked once, at the door. */
import { requireInRange } from '../domain-error.ts';

/** A point on the Earth, WGS84. */
export interface PlaceOnEarth {
  /** [°], -90 to 90, north positive. */
  readonly latitudeDeg: number;
  /** [°], -180 to 180, east positive. */
  readonly longitudeDeg: number;
  /** Above sea level [m], -500 to 9000. */
  readonly altitudeM: number;
}

/** Checks latitude and longitude. @throws DomainError */
export function requireCoordinates(place: {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}): void {
  requireInRange('latitudeDeg', place.latitudeDeg, {
    what: 'a latitude',
    unit: 'degrees',
    min: -90,
    max: 90,
  });
  requireInRange('longitudeDeg', place.longitudeDeg, {
    what: 'a longitude',
    unit: 'degrees',
    min: -180,
    max: 180,
  });
}

/** Checks a place. @throws DomainError */
export function requirePlace(place: PlaceOnEarth): void {
  requireCoordinates(place);
  requireInRange('altitudeM', place.altitudeM, { what: 'an altitude', unit: 'm', min: -500, max: 9000 });
}
