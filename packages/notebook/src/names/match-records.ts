/** Records that were written with a free name, given their subject once a checklist knows it. */
import { change, type ChangeNote } from '../document/change.ts';
import { find, list } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import type { KeptRecord } from '../kept/record.ts';
import type { Subject } from '../kept/subject.ts';
import type { CheckedName, NameIndex } from './check-name.ts';

/** What became of one free name. */
export interface MatchedName {
  readonly written: string;
  readonly records: number;
  readonly found: CheckedName;
  /** The subject that the records now have; null where they stay as they were. */
  readonly subject: string | null;
}

/** A notebook after matching, and what became of each free name in it. */
export interface MatchedRecords {
  readonly notebook: Notebook;
  readonly names: readonly MatchedName[];
}

/**
 * Gives records of a free name the subject of that taxon, making it where the notebook has none. What was written stays
 * in the record; what is only near, or unknown, is told and left alone.
 *
 * @param notebook used up; go on with what is returned
 * @param options.language whose common name a new subject gets
 * @param options.newId an identifier for a new subject
 */
export function matchRecords(
  notebook: Notebook,
  index: NameIndex,
  options: { readonly language: string; readonly newId: () => string; readonly note: ChangeNote },
): MatchedRecords {
  const free = new Map<string, KeptRecord[]>();
  for (const record of list(notebook, 'record')) {
    if (record.subjectId !== null || record.verbatimName === null) continue;
    free.set(record.verbatimName, [...(free.get(record.verbatimName) ?? []), record]);
  }
  const subjects = new Map(
    list(notebook, 'subject').map((subject) => [subject.scientificName.toLowerCase(), subject]),
  );
  const made: Subject[] = [];
  const given: { readonly record: KeptRecord; readonly subjectId: string }[] = [];
  const names = [...free].map(([written, records]): MatchedName => {
    const found = index.check(written);
    const sure =
      found.kind === 'accepted' || found.kind === 'synonym' || found.kind === 'common' ? found.name : null;
    if (sure === null) return { written, records: records.length, found, subject: null };
    let subject = subjects.get(sure.scientificName.toLowerCase());
    if (subject === undefined) {
      subject = newSubject(
        sure.scientificName,
        index.commonNames(sure.scientificName, options.language),
        options,
      );
      subjects.set(sure.scientificName.toLowerCase(), subject);
      made.push(subject);
    }
    for (const record of records) given.push({ record, subjectId: subject.id });
    return { written, records: records.length, found, subject: subject.scientificName };
  });
  if (given.length === 0) return { notebook, names };
  const changed = change(notebook, options.note, (pen) => {
    for (const subject of made) pen.put('subject', subject);
    for (const { record, subjectId } of given) pen.patch('record', record.id, { subjectId });
  });
  return { notebook: changed, names };
}

function newSubject(
  scientificName: string,
  common: readonly string[],
  { language, newId }: { readonly language: string; readonly newId: () => string },
): Subject {
  return {
    id: newId(),
    scientificName,
    commonNames: common[0] === undefined ? {} : { [language]: common[0] },
    ...{ heightAboveGroundM: null, sizeMm: null, depthMm: null, stem: null, sway: null },
    ...{ opens: 'any', months: [], sensitivity: null, notes: '' },
  };
}

/** A subject's common name in a language, else in its base language, else its scientific name. */
export function nameForReader(subject: Subject, language: string | null): string {
  if (language === null) return subject.scientificName;
  const base = language.split('-')[0] ?? language;
  return subject.commonNames[language] ?? subject.commonNames[base] ?? subject.scientificName;
}

/**
 * Species about whose places the photographer was never asked, though they have records: to be asked once each. Until
 * then they count as of medium sensitivity.
 */
export function speciesToAsk(notebook: Notebook): readonly Subject[] {
  const recorded = new Set(list(notebook, 'record').flatMap(({ subjectId }) => subjectId ?? []));
  return [...recorded].flatMap((id) => {
    const subject = find(notebook, 'subject', id);
    return subject !== null && subject.sensitivity === null ? [subject] : [];
  });
}
