/** Carrying an older notebook over to today's schema, without leaving anything behind. */
import * as A from '@automerge/automerge/slim';
import { thingsOfSchema0 } from './migrate-schema-0.ts';
import { firstFoundation, foundedDocument, type NotebookDocument } from './founding.ts';

/**
 * A document of schema 1 as one of today's: the founding changes that came since are the same on every device, so they
 * are merged in, and nothing else is written.
 *
 * @param found of schema 1; used up
 */
export function bringUpToDate(found: A.Doc<NotebookDocument>): A.Doc<NotebookDocument> {
  return A.merge(found, foundedDocument());
}

/**
 * A document of schema 0 as one of today's. What the old form held stays in the document and in its history.
 *
 * The change is the same to the byte on every device that carries over the same document: its author is made from the
 * document's heads, its time is 0. So two devices that migrate apart and then merge have each thing once.
 *
 * @param found of schema 0; used up
 */
export function migrateDocument(found: A.Doc<Record<string, unknown>>): A.Doc<NotebookDocument> {
  const old = A.toJS(found);
  const me = A.getActorId(found);
  const carrier = [...A.getHeads(found)].sort().join('').slice(0, 64) || '01';
  const things = thingsOfSchema0(old);
  const founded = A.merge(
    A.clone(found, { actor: carrier }) as unknown as A.Doc<NotebookDocument>,
    firstFoundation(),
  );
  // To schema 1, as every version has done it: the same author may not write two different changes.
  const carried = A.change(founded, { message: 'carried over from schema 0', time: 0 }, (doc) => {
    doc.schema = 1;
    for (const { kind, thing } of things) doc[kind][thing.id] = thing;
  });
  return bringUpToDate(A.clone(carried, { actor: me }));
}
