/** Where this device is; nobody waits long for it. */

export interface PositionHere {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number | null;
  /** As the device tells it: a circle that holds the place about half the time [m]. */
  readonly accuracyM: number | null;
}

/**
 * @param waitMs after so long one goes on without
 * @returns null where the device tells no position
 */
export function positionHere(waitMs: number): Promise<PositionHere | null> {
  if (!('geolocation' in navigator)) return Promise.resolve(null);
  return new Promise((resolve) => {
    // Some browsers never answer while they ask for leave.
    const tired = setTimeout(() => resolve(null), waitMs + 500);
    const done = (position: PositionHere | null) => {
      clearTimeout(tired);
      resolve(position);
    };
    navigator.geolocation.getCurrentPosition(
      ({ coords }) =>
        done({
          latitudeDeg: coords.latitude,
          longitudeDeg: coords.longitude,
          altitudeM: coords.altitude,
          accuracyM: coords.accuracy,
        }),
      () => done(null),
      { enableHighAccuracy: true, timeout: waitMs, maximumAge: 30_000 },
    );
  });
}
