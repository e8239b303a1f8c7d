/**
 * Where the invented outing is set. "Long Mead" does not exist: its coordinates lie in open sea, more than 100 km from any
 * land, so that no meadow of anyone's is meant; sun and dusk are those of that latitude.
 */
export const LONG_MEAD = {
  name: 'Long Mead (invented)',
  region: 'Invented county',
  latitudeDeg: 49.6,
  longitudeDeg: -8.6,
  altitudeM: 62,
} as const;

/** The clock of the invented place, an hour ahead of UTC [h]. */
export const UTC_OFFSET_H = 1;
