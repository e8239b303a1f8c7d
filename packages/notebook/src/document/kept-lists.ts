/** The lists of a notebook that the days ahead hang on, for desk and phone alike. */
import type { FreeHours } from '../kept/free-hours.ts';
import type { KeptRecord } from '../kept/record.ts';
import type { Site } from '../kept/site.ts';
import type { Subject } from '../kept/subject.ts';
import type { WantedPicture } from '../kept/wanted-picture.ts';
import { list } from './look-up.ts';
import type { Notebook } from './notebook.ts';

/** Plain values: they can be handed to a worker. */
export interface KeptLists {
  readonly sites: readonly Site[];
  readonly subjects: readonly Subject[];
  readonly wantedPictures: readonly WantedPicture[];
  readonly records: readonly KeptRecord[];
  readonly freeHours: readonly FreeHours[];
}

/** The lists as they stand now, without what was removed or cannot be read. */
export function keptLists(notebook: Notebook): KeptLists {
  return {
    sites: list(notebook, 'site'),
    subjects: list(notebook, 'subject'),
    wantedPictures: list(notebook, 'wantedPicture'),
    records: list(notebook, 'record'),
    freeHours: list(notebook, 'freeHours'),
  };
}
