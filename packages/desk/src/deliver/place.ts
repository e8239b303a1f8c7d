/** Where the picture's own coordinates may go, by the notebook's one rule. */
import {
  privatePlaceOfRecord,
  release,
  type PlaceWish,
  type ReleasedPlace,
  type Sensitivity,
} from '@tepal/notebook';
import { DeskFault } from '../files/faults.ts';

/**
 * @param original its tags by group and name, numbers as numbers
 * @returns the place as released, or null; and the rule by which fields of place are left out, null where exact
 * @throws DeskFault where the wish is refused
 */
export function releasePlace(
  original: Readonly<Record<string, unknown>>,
  wanted: { readonly place: PlaceWish; readonly sensitivity: Sensitivity | null },
): { readonly place: ReleasedPlace | null; readonly rule: string | null } {
  if (wanted.place === 'none') {
    return { place: null, rule: 'left out, for no place was asked for (--place)' };
  }
  const at = (name: string) => {
    const value = original[`Composite:${name}`];
    return typeof value === 'number' && Number.isFinite(value) ? value : null;
  };
  const nothing = { place: null, rule: 'left out; the picture has no coordinates to release' };
  const latitudeDeg = at('GPSLatitude');
  const longitudeDeg = at('GPSLongitude');
  if (latitudeDeg === null || longitudeDeg === null) return nothing;
  const position = { latitudeDeg, longitudeDeg, altitudeM: at('GPSAltitude'), coordinateUncertaintyM: null };
  const sealed = privatePlaceOfRecord({ position }, null);
  if (sealed === null) return nothing;
  const answer = release(sealed, { audience: 'public', wish: wanted.place, sensitivity: wanted.sensitivity });
  if (!answer.ok) throw new DeskFault(answer.why);
  const exact = answer.place.kind === 'exact';
  return { place: answer.place, rule: exact ? null : `only as released. ${answer.place.rule}` };
}
