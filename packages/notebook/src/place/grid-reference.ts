/** The grid reference of a released place: never finer than what was released. */
import { nationalGridOfDegrees, nationalGridReference } from '@tepal/science';
import type { ReleasedPlace } from './release.ts';

/** Figures of the squares of 10 m, 100 m, 1 km, 10 km. */
const FIGURES = [
  [8, 10],
  [6, 100],
  [4, 1000],
  [2, 10_000],
] as const;

/**
 * A reference of the British national grid to a square that holds the whole released place: of an exact one the
 * smallest square not finer than its uncertainty, of a cell the smallest that holds all of the cell. It hangs on what
 * was released alone, so it tells nothing more.
 *
 * @returns null where no coordinates were released, off the grid, or where no square of 10 km holds the cell
 */
export function gridReferenceOfReleased(place: ReleasedPlace): string | null {
  const { latitudeDeg, longitudeDeg, coordinatePrecision: step } = place;
  if (latitudeDeg === undefined || longitudeDeg === undefined) return null;
  const middle = nationalGridOfDegrees({ latitudeDeg, longitudeDeg });
  if (middle.kind === 'outside') return null;
  if (step === undefined) {
    const uncertaintyM = place.coordinateUncertaintyInMeters ?? 100;
    const [figures] = FIGURES.find(([, sideM]) => sideM >= uncertaintyM) ?? FIGURES[3];
    return nationalGridReference(middle, figures);
  }
  // A little inside the corners, so that a cell whose edge is a square's edge is not taken beyond it.
  const half = step / 2 - step * 1e-6;
  const corners = [-half, half].flatMap((dLat) =>
    [-half, half].map((dLon) =>
      nationalGridOfDegrees({ latitudeDeg: latitudeDeg + dLat, longitudeDeg: longitudeDeg + dLon }),
    ),
  );
  for (const [figures] of FIGURES) {
    const references = corners.map((corner) =>
      corner.kind === 'outside' ? null : nationalGridReference(corner, figures),
    );
    const [first] = references;
    if (first !== null && first !== undefined && references.every((reference) => reference === first))
      return first;
  }
  return null;
}
