/** Rules, printers' profiles and entries: files of the store that the photographer edits and shares. */
import { readRuleSet, type EntryDraft, type KeptRules, type RuleSetDocument } from '@tepal/formats';
import { mkdir, readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { DeskFault } from '../../files/faults.ts';
import { readJson } from '../../files/read-json.ts';
import { exists, writeWhole } from '../../files/write.ts';
import type { Store } from '../stores.ts';

/** A name that is a file's name and nothing else. @throws DeskFault otherwise */
function plain(name: string): string {
  if (/^[\p{L}\p{N}][\p{L}\p{N} ._()-]{0,120}$/u.test(name)) return name;
  throw new DeskFault('The name needs letters or digits, and may hold spaces, dots and dashes.');
}

const rulesPath = (store: Store, id: string) => join(store.folder, 'rules', `${plain(id)}.json`);

/** The sets of rules; a file that cannot be read is told when it is used. */
export async function allRules(store: Store): Promise<readonly KeptRules[]> {
  const kept: KeptRules[] = [];
  for (const name of await namesIn(join(store.folder, 'rules'), '.json')) {
    const id = name.slice(0, -'.json'.length);
    const rules = await keptRules(store, id).catch(() => null);
    if (rules !== null) kept.push({ id, rules });
  }
  return kept;
}

/** @throws DeskFault where there is none, or a field of it is wrong */
export async function keptRules(store: Store, id: string): Promise<RuleSetDocument> {
  const path = rulesPath(store, id);
  if (!(await exists(path))) throw new DeskFault('That set of rules is not kept here; choose it again.');
  const read = readRuleSet(await readJson(path));
  if (!read.ok) throw new DeskFault(`${path}: ${read.fault.message}`);
  return read.value;
}

/** @throws DeskFault where a field is wrong */
export async function keepRules(store: Store, id: string, json: unknown): Promise<void> {
  const read = readRuleSet(json);
  if (!read.ok) throw new DeskFault(read.fault.message);
  await writeText(rulesPath(store, id), `${JSON.stringify(read.value, null, 2)}\n`);
}

export function profilePath(store: Store, name: string): string {
  return join(store.folder, 'profiles', plain(name));
}

export const profileNames = (store: Store) => namesIn(join(store.folder, 'profiles'), '');

export async function keepProfile(store: Store, name: string, bytes: Uint8Array): Promise<void> {
  await writeText(profilePath(store, name), bytes);
}

/** The folder of an entry: what was chosen, and the entry itself once it was made. */
export const entryFolder = (store: Store, id: string) => join(store.folder, 'entries', plain(id));

export async function allEntries(store: Store): Promise<readonly EntryDraft[]> {
  const drafts: EntryDraft[] = [];
  for (const id of await namesIn(join(store.folder, 'entries'), '')) {
    const path = join(store.folder, 'entries', id, 'draft.json');
    if (await exists(path)) drafts.push((await readJson(path)) as EntryDraft);
  }
  return drafts;
}

export async function keepEntry(store: Store, draft: EntryDraft): Promise<void> {
  await writeText(join(entryFolder(store, draft.id), 'draft.json'), `${JSON.stringify(draft, null, 2)}\n`);
}

async function namesIn(folder: string, end: string): Promise<readonly string[]> {
  const names = await readdir(folder).catch(() => []);
  return names.filter((name) => name.endsWith(end) && !name.startsWith('.')).sort();
}

async function writeText(path: string, content: string | Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  await writeWhole(path, content, { replace: true });
}
