/** Records in, and names matched to a checklist, from files of the desk. */
import { readChecklist } from '@tepal/formats';
import {
  importRecords as importInto,
  indexNames,
  matchRecords,
  type Imported,
  type MatchedName,
  type Notebook,
} from '@tepal/notebook';
import { randomUUID } from 'node:crypto';
import { DeskFault } from '../files/faults.ts';

/** @throws DeskFault with status 3 when the file is no archive and no table */
export function importRecords(
  notebook: Notebook,
  bytes: Uint8Array,
  options: { readonly file: string; readonly nowMs: number },
): Imported {
  const read = importInto(notebook, bytes, { ...options, newId: () => `r-${randomUUID()}` });
  if (!read.ok) throw new DeskFault(`${options.file}: ${read.fault.message}`, 3);
  return read.value;
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
