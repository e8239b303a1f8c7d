/** How sensitive a record's place is: by its own species, and by what else was recorded there. */
import { find, list } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import type { Position } from '../kept/position.ts';
import type { KeptRecord } from '../kept/record.ts';
import { SENSITIVITIES, type Sensitivity } from '../kept/subject.ts';
import { distanceM } from './nearest-site.ts';

/**
 * Records nearer than this give one another's places away: who lists a daisy and an orchid of one day tells where the
 * orchid is by telling where the daisy is [m]. Ours; Chapman 2020 names the danger without a distance.
 */
export const NEIGHBOURS_WITHIN_M = 1000;

/** A species about which nobody was asked counts as medium. */
const UNASKED: Sensitivity = 'medium';

/** Sensitivities of places, worked out once for all records of a notebook. */
export interface SensitivitiesHere {
  /** What `release` is to be told of a record: null where nobody was asked about any species that counts. */
  readonly of: (record: KeptRecord) => Sensitivity | null;
}

/** The sensitivity of each record: the highest among its own species and those recorded within a kilometre. */
export function sensitivitiesHere(notebook: Notebook): SensitivitiesHere {
  const placed = list(notebook, 'record').flatMap((record) => {
    const position = positionOf(notebook, record);
    return position === null ? [] : [{ position, sensitivity: ownSensitivity(notebook, record) }];
  });
  return {
    of: (record) => {
      const own = ownSensitivity(notebook, record);
      const position = positionOf(notebook, record);
      if (position === null) return own;
      return placed
        .filter(
          (other) =>
            rank(other.sensitivity) > rank(own) && distanceM(position, other.position) < NEIGHBOURS_WITHIN_M,
        )
        .reduce(
          (highest, other) => (rank(other.sensitivity) > rank(highest) ? other.sensitivity : highest),
          own,
        );
    },
  };
}

function ownSensitivity(notebook: Notebook, { subjectId }: KeptRecord): Sensitivity | null {
  return subjectId === null ? null : (find(notebook, 'subject', subjectId)?.sensitivity ?? null);
}

function positionOf(notebook: Notebook, record: KeptRecord): Position | null {
  return (
    record.position ??
    (record.siteId === null ? null : (find(notebook, 'site', record.siteId)?.position ?? null))
  );
}

function rank(sensitivity: Sensitivity | null): number {
  return SENSITIVITIES.indexOf(sensitivity ?? UNASKED);
}
