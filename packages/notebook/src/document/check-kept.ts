/** Validation at the door: nothing enters a notebook that its schema does not describe. */
import { DomainError } from '@tepal/science';
import * as v from 'valibot';
import { KINDS, type KeptByKind, type KeptKind } from '../kept/kinds.ts';

/** What a stored thing is: its value, or what is wrong with it in words. */
export type ReadKept<K extends KeptKind> =
  | { readonly ok: true; readonly value: KeptByKind[K] }
  | { readonly ok: false; readonly field: string; readonly expected: string; readonly received: unknown };

/** Reads a value as a thing of a kind. Fields of a newer version pass untouched. */
export function readKept<K extends KeptKind>(kind: K, value: unknown): ReadKept<K> {
  const schema: v.GenericSchema = KINDS[kind].schema;
  const read = v.safeParse(schema, value, { abortEarly: true });
  if (read.success) return { ok: true, value: read.output as KeptByKind[K] };
  const issue = read.issues[0];
  const path = v.getDotPath(issue);
  return {
    ok: false,
    field: path === null ? kind : `${kind}.${path}`,
    expected: issue.message,
    received: issue.input,
  };
}

/**
 * Passes a thing that its kind's schema describes.
 *
 * @throws DomainError naming the field, what it accepts, and what it received
 */
export function requireKept<K extends KeptKind>(kind: K, value: unknown): KeptByKind[K] {
  const read = readKept(kind, value);
  if (read.ok) return read.value;
  const shown = typeof read.received === 'object' ? JSON.stringify(read.received) : read.received;
  throw new DomainError('outOfRange', read.expected, read.field, shown);
}
