/** Writing in a notebook: one named change, made with a pen that writes only what differs. */
import * as A from '@automerge/automerge/slim';
import { DomainError } from '@tepal/science';
import { KINDS, type KeptByKind, type KeptKind } from '../kept/kinds.ts';
import { requireKept } from './check-kept.ts';
import type { NotebookDocument, StoredThing } from './founding.ts';
import type { Notebook } from './notebook.ts';
import { alike, plainCopy } from './plain.ts';

/** What a change is called in the history, and when it was made. */
export interface ChangeNote {
  /** A few words: "site moved", "scabious seen". */
  readonly message: string;
  /** Unix time [ms]. */
  readonly timeMs: number;
}

/** Writes in the notebook while a change is being made. */
export interface Pen {
  /** Puts a whole thing, new or known. Only fields that differ are written; fields not named in it stay. */
  put<K extends KeptKind>(kind: K, thing: KeptByKind[K]): void;
  /** Writes some fields of a known thing. @throws DomainError if there is none of that identifier */
  patch<K extends KeptKind>(kind: K, id: string, fields: Partial<KeptByKind[K]>): void;
  /** Takes a thing off the lists. It stays in the notebook, and what another device writes in it stays too. */
  remove(kind: KeptKind, id: string): void;
  /** Puts a removed thing back on the lists. */
  restore(kind: KeptKind, id: string): void;
  /** Writes one field even if it shows that value already: this settles a conflict. */
  settle<K extends KeptKind, F extends string & keyof KeptByKind[K]>(
    kind: K,
    id: string,
    field: F,
    value: KeptByKind[K][F],
  ): void;
}

/**
 * Makes one change. If the function throws, nothing of it is kept.
 *
 * @param notebook used up; go on with what is returned
 * @throws DomainError if a thing is not as its schema describes
 */
export function change(notebook: Notebook, note: ChangeNote, write: (pen: Pen) => void): Notebook {
  const options = { message: note.message, time: Math.floor(note.timeMs / 1000) };
  return A.change(notebook, options, (doc) => write(penFor(doc)));
}

function penFor(doc: NotebookDocument): Pen {
  const known = (kind: KeptKind, id: string): StoredThing => {
    const thing = doc[kind][id];
    if (thing === undefined)
      throw new DomainError('notOneOf', `the identifier of a kept ${kind}`, `${kind}.id`, id);
    return thing;
  };
  return {
    put(kind, thing) {
      const checked: StoredThing = plainCopy(requireKept(kind, thing));
      const { id } = thing;
      const things: Record<string, StoredThing> = doc[kind];
      const stored = things[id];
      if (stored === undefined) things[id] = checked;
      else {
        writeFields(doc, kind, id, checked);
        if (stored['removed'] === true) stored['removed'] = false;
      }
    },
    patch(kind, id, fields) {
      const before = plainCopy(known(kind, id));
      const wanted = { ...before, ...plainCopy(fields), id };
      requireKept(kind, wanted);
      writeFields(doc, kind, id, plainCopy(fields));
    },
    remove(kind, id) {
      const thing = known(kind, id);
      if (thing['removed'] !== true) thing['removed'] = true;
    },
    restore(kind, id) {
      const thing = known(kind, id);
      if (thing['removed'] === true) thing['removed'] = false;
    },
    settle(kind, id, field, value) {
      const thing = known(kind, id);
      requireKept(kind, { ...plainCopy(thing), [field]: value });
      thing[field] = plainCopy(value);
    },
  };
}

function writeFields(doc: NotebookDocument, kind: KeptKind, id: string, fields: StoredThing): void {
  const thing = doc[kind][id]!;
  const { prose, maps } = KINDS[kind] as { prose: readonly string[]; maps: readonly string[] };
  for (const [field, next] of Object.entries(fields)) {
    const now = plainCopy(thing[field]);
    if (alike(now, next)) continue;
    if (prose.includes(field) && typeof now === 'string' && typeof next === 'string') {
      A.updateText(doc, [kind, id, field], next);
    } else if (maps.includes(field) && typeof now === 'object' && now !== null) {
      writeMap(thing[field] as StoredThing, next as StoredThing);
    } else if (Array.isArray(now) && Array.isArray(next)) {
      writeList(thing[field] as unknown[], now, next);
    } else {
      thing[field] = next;
    }
  }
}

function writeMap(map: StoredThing, next: StoredThing): void {
  for (const key of Object.keys(map)) if (!Object.hasOwn(next, key)) Reflect.deleteProperty(map, key);
  for (const [key, value] of Object.entries(next)) if (!alike(plainCopy(map[key]), value)) map[key] = value;
}

/** Replaces only the stretch between what both lists begin with and what both end with. */
function writeList(list: unknown[], now: readonly unknown[], next: readonly unknown[]): void {
  let head = 0;
  while (head < now.length && head < next.length && alike(now[head], next[head])) head++;
  let tail = 0;
  while (
    tail < now.length - head &&
    tail < next.length - head &&
    alike(now[now.length - 1 - tail], next[next.length - 1 - tail])
  ) {
    tail++;
  }
  list.splice(head, now.length - head - tail, ...next.slice(head, next.length - tail));
}
