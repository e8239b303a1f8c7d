/** What was learned of these hands, this site and this plant, for `tepal expose` and `tepal when`. */
import {
  gatherEvidence,
  learnedForExposure,
  learnedWind,
  learnFromOutings,
  type PlantPlace,
} from '@tepal/advice';
import { find, list, type KeptKind, type Notebook } from '@tepal/notebook';
import type { Support } from '@tepal/science';
import { DeskFault } from '../../files/faults.ts';
import { readNotebook } from '../../library/notebook-file.ts';

/** What of the notebook a request names. */
export interface LearnedWish {
  readonly notebook?: string;
  /** Then the wind is the forecast's, brought down to the plant, and not one that was measured there. */
  readonly site?: string;
  readonly subject?: string;
  readonly support?: Support;
}

/** The support that the exposure advice takes where none is said. */
const USUAL_SUPPORT: Support = 'kneeling';

export type Learned = ReturnType<typeof learnedForExposure>;

/**
 * What was learned, as the exposure advice takes it; nothing, at once, where no notebook is given.
 *
 * @throws DeskFault where the notebook cannot be read, or has no such site or subject
 */
export function learnedOf(wish: LearnedWish): Learned | Promise<Learned> {
  const { notebook, site, subject } = wish;
  if (notebook !== undefined) return learnedIn(notebook, wish);
  if (site === undefined && subject === undefined) return {};
  throw new DeskFault('--site and --subject name things of a notebook: give --notebook too.');
}

async function learnedIn(
  file: string,
  { site, subject, support = USUAL_SUPPORT }: LearnedWish,
): Promise<Learned> {
  const { notebook } = await readNotebook(file, { create: false });
  return learnedForExposure(learnFromOutings(gatherEvidence(notebook).outings), {
    support,
    siteId: site === undefined ? null : known(notebook, 'site', site),
    subjectId: subject === undefined ? null : known(notebook, 'subject', subject),
  });
}

function known(notebook: Notebook, kind: KeptKind, id: string): string {
  if (find(notebook, kind, id) !== null) return id;
  const ids = list(notebook, kind)
    .map((one) => one.id)
    .join(', ');
  throw new DeskFault(
    `expected --${kind} to be one of the notebook's (${ids === '' ? 'it has none' : ids}) but received ${id}.`,
  );
}

/** The wind of a site against its forecast, as the way down to the plant takes it; null where nothing bears on it. */
export function learnedWindAt(
  notebook: Notebook,
  siteId: string,
): NonNullable<PlantPlace['learnedWind']> | null {
  const { median, frames } = learnedWind(learnFromOutings(gatherEvidence(notebook).outings), siteId);
  if (frames === 0) return null;
  return { factor: Math.min(5, Math.max(0.05, median)), basis: `from ${frames} of your frames here` };
}
