/** Reading a notebook: what is on the lists, what could not be read, and what two devices wrote at once. */
import * as A from '@automerge/automerge/slim';
import { KEPT_KINDS, type KeptByKind, type KeptKind } from '../kept/kinds.ts';
import { readKept } from './check-kept.ts';
import type { StoredThing } from './founding.ts';
import type { Notebook } from './notebook.ts';
import { plainCopy } from './plain.ts';

/** All things of a kind that were not removed, by identifier. What cannot be read is told by `unreadable`. */
export function list<K extends KeptKind>(notebook: Notebook, kind: K): readonly KeptByKind[K][] {
  const ids = Object.keys(notebook[kind]).sort();
  return ids.flatMap((id) => find(notebook, kind, id) ?? []);
}

/** One thing by its identifier; null if there is none, it was removed, or it cannot be read. */
export function find<K extends KeptKind>(notebook: Notebook, kind: K, id: string): KeptByKind[K] | null {
  if (!Object.hasOwn(notebook[kind], id)) return null;
  const stored = notebook[kind][id]!;
  if (stored['removed'] === true) return null;
  const read = readKept(kind, withoutMark(stored));
  return read.ok ? read.value : null;
}

/** The identifiers of a kind's removed things. */
export function listRemoved(notebook: Notebook, kind: KeptKind): readonly string[] {
  return Object.entries(notebook[kind]).flatMap(([id, stored]) => (stored['removed'] === true ? [id] : []));
}

function withoutMark(stored: StoredThing): StoredThing {
  const copy = plainCopy(stored);
  delete copy['removed'];
  return copy;
}

/** A thing that is in the notebook but does not fit its schema: a newer version's, or a damaged one. */
export interface Unreadable {
  readonly kind: KeptKind;
  readonly id: string;
  /** What is wrong, as a sentence. */
  readonly why: string;
}

/** Everything in the notebook that the lists leave out because it cannot be read. */
export function unreadable(notebook: Notebook): readonly Unreadable[] {
  return KEPT_KINDS.flatMap((kind) =>
    Object.entries(notebook[kind]).flatMap(([id, stored]) => {
      const read = readKept(kind, withoutMark(stored));
      return read.ok ? [] : [{ kind, id, why: `${read.field}: expected ${read.expected}.` }];
    }),
  );
}

/** A field that two devices wrote at once. */
export interface Conflict {
  readonly kind: KeptKind;
  readonly id: string;
  /** The field; null if two devices made a thing of this identifier at once. */
  readonly field: string | null;
  /** What the notebook shows. */
  readonly shown: unknown;
  /** What stands behind it. `settle` decides between them. */
  readonly others: readonly unknown[];
}

/** All conflicts that nobody settled yet. */
export function conflicts(notebook: Notebook): readonly Conflict[] {
  return KEPT_KINDS.flatMap((kind) =>
    Object.entries(notebook[kind]).flatMap(([id, stored]) => [
      ...conflictAt(notebook[kind], id, { kind, id, field: null }),
      ...Object.keys(stored).flatMap((field) => conflictAt(stored, field, { kind, id, field })),
    ]),
  );
}

function conflictAt(
  holder: StoredThing,
  key: string,
  where: Pick<Conflict, 'kind' | 'id' | 'field'>,
): readonly Conflict[] {
  const values = A.getConflicts(holder, key);
  if (values === undefined) return [];
  const shown: unknown = plainCopy(holder[key]);
  const winner = Object.entries(values).find(([, value]) => value === holder[key])?.[0];
  const others = Object.entries(values).flatMap(([op, value]): unknown[] =>
    op === winner ? [] : [plainCopy(value)],
  );
  return [{ ...where, shown, others }];
}
