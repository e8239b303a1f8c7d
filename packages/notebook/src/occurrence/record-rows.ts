/** Records as a page lists them, each with what leaves the house of its place. */
import type { RecordRow } from '@tepal/formats';
import { find, list } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import { releasedInWords } from '../place/release-words.ts';
import { releasedForPublic } from './records-out.ts';

/**
 * Every record of a notebook, for the photographer's own eyes.
 *
 * @param frameOfHash the frame that a file's hash belongs to; null where it is not known here
 */
export function recordRows(
  notebook: Notebook,
  frameOfHash: (hash: string) => string | null,
): readonly RecordRow[] {
  return list(notebook, 'record').map((record) => {
    const subject = record.subjectId === null ? null : find(notebook, 'subject', record.subjectId);
    const site = record.siteId === null ? null : find(notebook, 'site', record.siteId);
    return {
      id: record.id,
      scientificName: subject?.scientificName ?? record.verbatimName ?? '',
      commonName: subject === null ? null : (Object.values(subject.commonNames)[0] ?? null),
      eventDate: record.eventDate,
      siteName: site?.name ?? null,
      count: record.individualCount,
      remarks: record.remarks === '' ? null : record.remarks,
      frameIds: record.evidence.flatMap((hash) => frameOfHash(hash) ?? []),
      leaves: releasedInWords(releasedForPublic(notebook, record, 'coarse')),
    };
  });
}
