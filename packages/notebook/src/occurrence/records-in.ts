/** Records in, from a Darwin Core archive or a table: nothing is dropped without being told. */
import { readArchive, readOccurrencesCsv, understood, type Result } from '@tepal/formats';
import { change } from '../document/change.ts';
import type { Notebook } from '../document/notebook.ts';
import type { KeptRecord } from '../kept/record.ts';
import { fromOccurrence } from './from-occurrence.ts';

/** A notebook after an import, and what of the file was not understood. */
export interface Imported {
  readonly notebook: Notebook;
  readonly occurrences: number;
  readonly notUnderstood: readonly string[];
  readonly refused: number;
}

/**
 * The rows of a file as records of the notebook. A row that cannot be read is told and refused; a term without a field
 * here is kept as it came, and told.
 *
 * @param notebook used up; go on with what is returned
 * @param options.newId an identifier for each record
 * @returns a fault where the file is no archive and no table
 */
export function importRecords(
  notebook: Notebook,
  bytes: Uint8Array,
  options: { readonly file: string; readonly nowMs: number; readonly newId: () => string },
): Result<Imported> {
  const zipped = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const read = zipped ? readArchive(bytes) : readOccurrencesCsv(bytes);
  if (!read.ok) return read;
  const told: string[] = [...read.warnings, ...read.value.notUnderstood];
  const terms = new Map<string, number>();
  const records: KeptRecord[] = [];
  let refused = 0;
  read.value.occurrences.forEach((row, i) => {
    const found = fromOccurrence(row, options.newId());
    if (!found.ok) {
      refused += 1;
      told.push(`row ${i + 1}: ${found.why}`);
      return;
    }
    for (const term of found.notUnderstood) terms.set(term, (terms.get(term) ?? 0) + 1);
    records.push(found.record);
  });
  for (const [term, count] of terms) told.push(`${term}: kept as it came in ${count} records`);
  if (records.length === 0) return understood({ notebook, occurrences: 0, notUnderstood: told, refused });
  const name = options.file.split(/[\\/]/).pop() ?? options.file;
  const filled = change(notebook, { message: `records from ${name}`, timeMs: options.nowMs }, (pen) => {
    for (const record of records) pen.put('record', record);
  });
  return understood({ notebook: filled, occurrences: records.length, notUnderstood: told, refused });
}
