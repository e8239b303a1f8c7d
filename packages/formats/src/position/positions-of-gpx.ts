/** The places that somebody marked in a GPX file, to be taken over as sites. */
import { readGpx } from '../gpx.ts';
import { refused, understood, type Result } from '../result.ts';

export interface MarkedPlace {
  readonly name: string | null;
  /** WGS84 [°]. */
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Above sea level [m]. */
  readonly altitudeM: number | null;
}

/** The waypoints of a GPX file; refused, with what is in it instead, where it has none. */
export function positionsOfGpx(input: Uint8Array | string): Result<readonly MarkedPlace[]> {
  const read = readGpx(input);
  if (!read.ok) return read;
  const { waypoints, tracks } = read.value;
  if (waypoints.length === 0) {
    const found = tracks.length === 0 ? 'an empty GPX file' : `${tracks.length} tracks and no waypoint`;
    return refused({ where: 'gpx', found, accepted: 'a GPX file with a waypoint for each place' });
  }
  const places = waypoints.map(({ name, latitudeDeg, longitudeDeg, elevationM }) => ({
    ...{ name, latitudeDeg, longitudeDeg, altitudeM: elevationM },
  }));
  return understood(places, read.warnings);
}
