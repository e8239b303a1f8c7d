/** The history: every change by name, and taking one back. */
import * as A from '@automerge/automerge/slim';
import { DomainError } from '@tepal/science';
import { KEPT_KINDS, type KeptKind } from '../kept/kinds.ts';
import type { ChangeNote } from './change.ts';
import type { NotebookDocument, StoredThing } from './founding.ts';
import type { Notebook } from './notebook.ts';
import { alike, plainCopy } from './plain.ts';

/** One change of the history. */
export interface PastChange {
  /** What the change is known by. */
  readonly hash: string;
  readonly message: string;
  /** Unix time [ms], to the second. */
  readonly timeMs: number;
  /** The device that made it. */
  readonly authorId: string;
  /** Whether this device made it. */
  readonly mine: boolean;
}

/** All changes, the oldest first; of two made apart either may come first. */
export function history(notebook: Notebook): readonly PastChange[] {
  const me = A.getActorId(notebook);
  return A.getChangesMetaSince(notebook, []).map((meta) => ({
    hash: meta.hash,
    message: meta.message ?? '',
    timeMs: meta.time * 1000,
    authorId: meta.actor,
    mine: meta.actor === me,
  }));
}

/** A notebook in which a change was taken back, and the fields that were left since they were written again later. */
export interface Undone {
  readonly notebook: Notebook;
  readonly left: readonly { readonly kind: KeptKind; readonly id: string; readonly field: string }[];
}

/**
 * Takes one change back, by a further change: each field it wrote gets the value from before, unless it was written
 * again since. What it made anew is removed from the lists. The history keeps both.
 *
 * @param notebook used up; go on with what is returned
 * @throws DomainError if the notebook has no change of that hash
 */
export function undoChange(notebook: Notebook, hash: string, note: ChangeNote): Undone {
  const past = /^[0-9a-f]{64}$/.test(hash) ? A.inspectChange(notebook, hash) : null;
  if (past === null) throw new DomainError('notOneOf', 'the hash of a change of this notebook', 'hash', hash);
  const before = A.toJS(A.view(notebook, past.deps)) as Partial<NotebookDocument>;
  const after = A.toJS(A.view(notebook, [hash])) as Partial<NotebookDocument>;
  const left: { kind: KeptKind; id: string; field: string }[] = [];
  const options = { message: note.message, time: Math.floor(note.timeMs / 1000) };
  const undone = A.change(notebook, options, (doc) => {
    for (const kind of KEPT_KINDS) {
      for (const [id, written] of Object.entries(after[kind] ?? {})) {
        const fields = takeBack(doc[kind][id]!, before[kind]?.[id], written);
        for (const field of fields) left.push({ kind, id, field });
      }
    }
  });
  return { notebook: undone, left };
}

/** Puts the fields of one thing back; gives the names of those that were written again since. */
function takeBack(now: StoredThing, before: StoredThing | undefined, after: StoredThing): readonly string[] {
  if (before === undefined) {
    if (now['removed'] !== true) now['removed'] = true;
    return [];
  }
  const left: string[] = [];
  for (const [field, written] of Object.entries(after)) {
    if (alike(before[field], written)) continue;
    if (!alike(plainCopy(now[field]), written)) left.push(field);
    else if (before[field] === undefined) Reflect.deleteProperty(now, field);
    else now[field] = plainCopy(before[field]);
  }
  return left;
}
