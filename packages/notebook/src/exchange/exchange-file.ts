/**
 * Notebooks that meet by a file: what one device has and the other may not, small and checked.
 *
 *   "Tepal exchange 1\n"   17 letters
 *   length of the head     4 bytes, little end first
 *   head                   JSON in UTF-8: from, heads, since, and the length of each change
 *   changes                Automerge's own, one after another, in the order in which they follow
 *   check sum              CRC-32 of everything before it, 4 bytes, little end first
 *
 * Each change carries a check of its own as well. Taking a file in is a merge: nothing is lost whatever the order, and
 * taking the same file twice does nothing.
 */
import * as A from '@automerge/automerge/slim';
import { refused, told, understood, type Result } from '@tepal/formats';
import * as v from 'valibot';
import type { NotebookDocument } from '../document/founding.ts';
import type { Notebook } from '../document/notebook.ts';
import { crc32 } from './check-sum.ts';

const MARK = new TextEncoder().encode('Tepal exchange 1\n');
const MOST_CHANGES = 2_000_000;

/** The usual ending of an exchange file's name. */
export const EXCHANGE_ENDING = '.tepal-exchange';

/** A state of a notebook by the hashes of its latest changes. */
export type NotebookHeads = readonly string[];

const headsSchema = v.pipe(v.array(v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/))), v.maxLength(1000));
const headSchema = v.looseObject({
  from: v.pipe(v.string(), v.maxLength(200)),
  heads: headsSchema,
  since: headsSchema,
  lengths: v.pipe(v.array(v.pipe(v.number(), v.integer(), v.minValue(1))), v.maxLength(MOST_CHANGES)),
});

/** A file as it was read, before it is taken in. */
export interface ExchangeFile {
  /** Whose it is, in the words of that device. */
  readonly from: string;
  /** The sender's state. */
  readonly heads: NotebookHeads;
  /** The state that the sender took the receiver to have; empty where the file holds everything. */
  readonly since: NotebookHeads;
  readonly changes: readonly Uint8Array[];
}

/** The state of a notebook. */
export function notebookHeads(notebook: Notebook): NotebookHeads {
  return [...A.getHeads(notebook)].sort();
}

/**
 * The file for another device.
 *
 * @param options.from what this device is called
 * @param options.since the other's state as last seen in a file of its; left out, the file holds everything. A state
 *   that this notebook does not know counts as nothing known
 */
export function writeExchange(
  notebook: Notebook,
  options: { readonly from: string; readonly since?: NotebookHeads },
): Uint8Array {
  const since = options.since ?? [];
  const known = since.length > 0 && A.hasHeads(notebook, [...since]) ? [...since] : [];
  const changes = A.getChangesSince(notebook, known);
  const head = new TextEncoder().encode(
    JSON.stringify({
      from: options.from.slice(0, 200),
      heads: notebookHeads(notebook),
      since: known,
      lengths: changes.map((change) => change.length),
    }),
  );
  const bytes = new Uint8Array(
    MARK.length + 4 + head.length + changes.reduce((sum, change) => sum + change.length, 0) + 4,
  );
  const view = new DataView(bytes.buffer);
  bytes.set(MARK);
  view.setUint32(MARK.length, head.length, true);
  let at = MARK.length + 4;
  for (const part of [head, ...changes]) {
    bytes.set(part, at);
    at += part.length;
  }
  view.setUint32(at, crc32(bytes.subarray(0, at)), true);
  return bytes;
}

/** The parts of an exchange file, checked; a fault where it is none, cut short, or damaged. */
export function readExchange(bytes: Uint8Array): Result<ExchangeFile> {
  const accepted = 'a whole exchange file as Tepal writes it';
  const where = 'exchange file';
  if (bytes.length < MARK.length + 8 || MARK.some((byte, i) => bytes[i] !== byte)) {
    return refused({ where, found: bytes.length === 0 ? 'an empty file' : 'another kind of file', accepted });
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = bytes.length - 4;
  if (crc32(bytes.subarray(0, end)) !== view.getUint32(end, true)) {
    return refused({ where, found: 'a file that is cut short or damaged', accepted });
  }
  const length = view.getUint32(MARK.length, true);
  const start = MARK.length + 4;
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(bytes.subarray(start, start + length)));
  } catch {
    return refused({ where: `${where}, head`, found: 'no JSON', accepted });
  }
  const head = v.safeParse(headSchema, json);
  if (!head.success) return refused({ where: `${where}, head`, found: told(json), accepted });
  const { from, heads, since, lengths } = head.output;
  if (start + length + lengths.reduce((a, b) => a + b, 0) !== end) {
    return refused({ where, found: 'changes of another length than its head says', accepted });
  }
  let at = start + length;
  const changes = lengths.map((size) => bytes.subarray(at, (at += size)));
  return understood({ from, heads, since, changes });
}

/** A notebook after a file was taken in. */
export interface TakenExchange {
  readonly notebook: Notebook;
  readonly from: string;
  /** Changes that were new here. */
  readonly fresh: number;
  /** The sender's state, for a file back that holds only what is missing there. */
  readonly heads: NotebookHeads;
}

/**
 * Takes a file in. Nothing changes when the answer is a fault.
 *
 * @param notebook stays usable
 * @returns a fault where the file is damaged, or was written for a state that this notebook has not reached: then a
 *   whole file is asked for
 */
export function takeExchange(notebook: Notebook, bytes: Uint8Array): Result<TakenExchange> {
  const read = readExchange(bytes);
  if (!read.ok) return read;
  const { from, heads, since, changes } = read.value;
  if (since.length > 0 && !A.hasHeads(notebook, [...since])) {
    return refused({
      where: 'exchange file',
      found: `changes that follow others which are not here yet, from ${told(from)}`,
      accepted: 'a whole exchange file; write one there without --since',
    });
  }
  const before = A.getChangesMetaSince(notebook, []).length;
  let taken: A.Doc<NotebookDocument>;
  try {
    // On a copy: a change that cannot be applied must leave the notebook as it was.
    [taken] = A.applyChanges(A.clone(notebook, { actor: A.getActorId(notebook) }), [...changes]);
  } catch {
    return refused({
      where: 'exchange file',
      found: 'a change that cannot be read',
      accepted: 'whole changes',
    });
  }
  if (!A.hasHeads(taken, [...heads])) {
    return refused({
      where: 'exchange file',
      found: 'fewer changes than its head names',
      accepted: 'a whole exchange file',
    });
  }
  return understood({
    notebook: taken,
    from,
    fresh: A.getChangesMetaSince(taken, []).length - before,
    heads,
  });
}
