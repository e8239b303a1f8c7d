/** Records in, from an archive or a table; names matched to a checklist. */
import { readArchive, readChecklist, readOccurrencesCsv } from '@tepal/formats';
import {
  change,
  fromOccurrence,
  indexNames,
  matchRecords,
  type KeptRecord,
  type MatchedName,
  type Notebook,
} from '@tepal/notebook';
import { randomUUID } from 'node:crypto';
import { DeskFault } from '../files/faults.ts';

export interface Imported {
  readonly notebook: Notebook;
  readonly occurrences: number;
  readonly notUnderstood: readonly string[];
  readonly refused: number;
}

/** @throws DeskFault with status 3 when the file is no archive and no table */
export function importRecords(
  notebook: Notebook,
  bytes: Uint8Array,
  options: { readonly file: string; readonly nowMs: number },
): Imported {
  const zipped = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const read = zipped ? readArchive(bytes) : readOccurrencesCsv(bytes);
  if (!read.ok) throw new DeskFault(`${options.file}: ${read.fault.message}`, 3);
  const told: string[] = [...read.warnings, ...read.value.notUnderstood];
  const terms = new Map<string, number>();
  const records: KeptRecord[] = [];
  let refused = 0;
  read.value.occurrences.forEach((row, i) => {
    const found = fromOccurrence(row, `r-${randomUUID()}`);
    if (!found.ok) {
      refused += 1;
      told.push(`row ${i + 1}: ${found.why}`);
      return;
    }
    for (const term of found.notUnderstood) terms.set(term, (terms.get(term) ?? 0) + 1);
    records.push(found.record);
  });
  for (const [term, count] of terms) told.push(`${term}: kept as it came in ${count} records`);
  if (records.length === 0) return { notebook, occurrences: 0, notUnderstood: told, refused };
  const name = options.file.split(/[\\/]/).pop() ?? options.file;
  const filled = change(notebook, { message: `records from ${name}`, timeMs: options.nowMs }, (pen) => {
    for (const record of records) pen.put('record', record);
  });
  return { notebook: filled, occurrences: records.length, notUnderstood: told, refused };
}

export interface NamesChecked {
  readonly notebook: Notebook;
  readonly names: readonly MatchedName[];
  readonly checklistNames: number;
  readonly notUnderstood: readonly string[];
}

/**
 * Free names of records against a checklist.
 *
 * @throws DeskFault with status 3 when the file is no checklist
 */
export function checkNames(
  notebook: Notebook,
  bytes: Uint8Array,
  options: { readonly file: string; readonly language: string; readonly nowMs: number },
): NamesChecked {
  const read = readChecklist(bytes);
  if (!read.ok) throw new DeskFault(`${options.file}: ${read.fault.message}`, 3);
  const { notebook: matched, names } = matchRecords(notebook, indexNames(read.value.names), {
    language: options.language,
    newId: () => `s-${randomUUID()}`,
    note: { message: 'names matched to a checklist', timeMs: options.nowMs },
  });
  return {
    notebook: matched,
    names,
    checklistNames: read.value.names.length,
    notUnderstood: [...read.warnings, ...read.value.notUnderstood],
  };
}
