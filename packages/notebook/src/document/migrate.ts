/** Carrying an older notebook over to today's schema, without leaving anything behind. */
import * as A from '@automerge/automerge/slim';
import { thingsOfSchema0 } from './migrate-schema-0.ts';
import { foundedDocument, NOTEBOOK_SCHEMA, type NotebookDocument } from './founding.ts';

/**
 * A document of an older schema as one of today's. What the old form held stays in the document and in its history.
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
    foundedDocument(),
  );
  const carried = A.change(founded, { message: 'carried over from schema 0', time: 0 }, (doc) => {
    doc.schema = NOTEBOOK_SCHEMA;
    for (const { kind, thing } of things) doc[kind][thing.id] = thing;
  });
  return A.clone(carried, { actor: me });
}
