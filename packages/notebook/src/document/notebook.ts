/** Beginning, opening, saving and merging a notebook. */
import * as A from '@automerge/automerge/slim';
import { refused, told, understood, type Result } from '@tepal/formats';
import { foundedDocument, NOTEBOOK_SCHEMA, type NotebookDocument } from './founding.ts';
import { bringUpToDate, migrateDocument } from './migrate.ts';

/**
 * A notebook. A value that does not change: every function that alters it gives a new one, and the one handed in is
 * used up.
 */
export type Notebook = A.Doc<NotebookDocument>;

/** Who writes on this device: hexadecimal digits, an even number of them. Left out, a random one is drawn. */
export interface NotebookAuthor {
  readonly authorId?: string;
}

/** An empty notebook. */
export function createNotebook(author: NotebookAuthor = {}): Notebook {
  return author.authorId === undefined
    ? A.clone(foundedDocument())
    : A.clone(foundedDocument(), { actor: author.authorId });
}

/**
 * A notebook from its saved bytes, brought up to today's schema.
 *
 * @returns the notebook, with a warning if it was migrated; or a fault if the bytes are damaged, are no notebook, or
 *   were written by a newer version
 */
export function openNotebook(bytes: Uint8Array, author: NotebookAuthor = {}): Result<Notebook> {
  const accepted = 'a whole notebook as Tepal saves it';
  if (bytes.length === 0) return refused({ where: 'notebook', found: 'an empty file', accepted });
  let found: A.Doc<Record<string, unknown>>;
  try {
    found = A.load(bytes, author.authorId === undefined ? {} : { actor: author.authorId });
  } catch {
    return refused({ where: 'notebook', found: 'bytes that are damaged or no notebook', accepted });
  }
  return withTodaysSchema(found);
}

function withTodaysSchema(found: A.Doc<Record<string, unknown>>): Result<Notebook> {
  const schema = found['schema'];
  if (typeof schema !== 'number' || !Number.isInteger(schema) || schema < 0) {
    return refused({
      where: 'notebook.schema',
      found: told(schema),
      accepted: `the number of a notebook's schema, 0 to ${NOTEBOOK_SCHEMA}`,
    });
  }
  if (schema > NOTEBOOK_SCHEMA) {
    return refused({
      where: 'notebook.schema',
      found: `schema ${schema}, written by a newer Tepal`,
      accepted: `schema ${NOTEBOOK_SCHEMA} or older; bring this Tepal up to date, the notebook was left as it is`,
    });
  }
  if (schema === NOTEBOOK_SCHEMA) return understood(found as unknown as Notebook);
  // New kinds only: nothing of what was there has moved, so there is nothing to tell.
  if (schema > 0) return understood(bringUpToDate(found as unknown as Notebook));
  return understood(migrateDocument(found), [
    `The notebook was of schema ${schema} and was carried over to schema ${NOTEBOOK_SCHEMA}; nothing was left behind.`,
  ]);
}

/** The notebook with its whole history as bytes. */
export function saveNotebook(notebook: Notebook): Uint8Array {
  return A.save(notebook);
}

/**
 * Both notebooks in one, each as `createNotebook` or `openNotebook` gives it. Whatever either holds is in it; the order does not matter. `mine` is used up and goes on as
 * the author of what comes next; `theirs` stays usable.
 */
export function mergeNotebooks(mine: Notebook, theirs: Notebook): Notebook {
  return A.merge(mine, theirs);
}

/** Whether two notebooks have the same history, and so the same content. */
export function sameNotebook(a: Notebook, b: Notebook): boolean {
  const heads = (notebook: Notebook) => [...A.getHeads(notebook)].sort().join();
  return heads(a) === heads(b);
}
