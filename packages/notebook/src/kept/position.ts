/** An exact position: one value, changed as a whole, so that no two devices' halves ever make a third place. */
import * as v from 'valibot';
import { above0, within, type Kept } from './fields.ts';

/**
 * Where something is, on the WGS84 ellipsoid. Private: it leaves the house by `release` alone.
 *
 * - latitudeDeg: north positive [deg], -90 to 90
 * - longitudeDeg: east positive [deg], -180 to 180
 * - altitudeM: above mean sea level [m]; null where not known
 * - coordinateUncertaintyM: radius within which the true place lies, at 95 % [m]; null where not known, never 0. A
 *   phone's "accuracy" is about a 50 % circle: double it (FS 8.2)
 */
export const positionSchema = v.looseObject({
  latitudeDeg: within(-90, 90, 'degrees'),
  longitudeDeg: within(-180, 180, 'degrees'),
  altitudeM: v.nullable(within(-500, 9000, 'm')),
  coordinateUncertaintyM: v.nullable(above0(10_000_000, 'm')),
});

export type Position = Kept<v.InferOutput<typeof positionSchema>>;
