/**
 * The changes that every notebook begins with. They are the same to the byte on every device (a fixed author, time 0),
 * so that two notebooks which were begun apart share their collections and merge without hiding one another's things.
 * A later schema that adds a kind appends a change here and never alters an earlier one.
 */
import * as A from '@automerge/automerge/slim';
import type { KeptKind } from '../kept/kinds.ts';

/** A thing as it lies in the document, known fields and others alike. */
export type StoredThing = Record<string, unknown>;

/** The document: the schema's number, and under each kind its things by identifier. */
export type NotebookDocument = { schema: number } & Record<KeptKind, Record<string, StoredThing>>;

/** The schema that this code writes. */
export const NOTEBOOK_SCHEMA = 2;

const FOUNDER = '00'.repeat(16);

// Written out: what was founded once must not follow a later list of kinds.
const FIRST_KINDS = [
  'site',
  'subject',
  'wantedPicture',
  'kit',
  'outing',
  'setUp',
  'record',
  'freeHours',
  'delivery',
] as const satisfies readonly KeptKind[];

// Schema 2 keeps what was measured, and what left the house.
const SECOND_KINDS = ['evidence', 'sending'] as const satisfies readonly KeptKind[];

/** The first founding change alone: what schema 1 began with. */
export function firstFoundation(): A.Doc<NotebookDocument> {
  return A.change(A.init<NotebookDocument>(FOUNDER), { message: 'begin', time: 0 }, (doc) => {
    doc.schema = 1;
    for (const kind of FIRST_KINDS) doc[kind] = {};
  });
}

/** A notebook with the founding changes only. */
export function foundedDocument(): A.Doc<NotebookDocument> {
  return A.change(firstFoundation(), { message: 'evidence and sendings', time: 0 }, (doc) => {
    doc.schema = 2;
    for (const kind of SECOND_KINDS) doc[kind] = {};
  });
}
