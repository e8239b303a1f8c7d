/** What was entered before, kept as a plain file: entry, title, content hash. */
import type { EnteredBefore } from '@tepal/advice';
import { readFile } from 'node:fs/promises';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { writeWhole } from '../files/write.ts';

const SCHEMA = 'tepal/entered-before/1';

/** @throws DeskFault where the file is there and cannot be understood: it is never begun anew over what it holds */
export async function readEntered(path: string): Promise<readonly EnteredBefore[]> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    if ((error as { code?: string }).code === 'ENOENT') return [];
    throw new DeskFault(`${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
  try {
    const found = JSON.parse(text) as { schema?: unknown; pictures?: unknown };
    if (found.schema === SCHEMA && Array.isArray(found.pictures)) return found.pictures as EnteredBefore[];
  } catch {
    // Told below.
  }
  throw new DeskFault(`${path} is not a list of what was entered before ("${SCHEMA}").`, 3);
}

/** Adds pictures to the list; each entry keeps a picture once. */
export async function rememberEntered(path: string, pictures: readonly EnteredBefore[]): Promise<void> {
  const before = await readEntered(path);
  const isNew = ({ entry, hash }: EnteredBefore) =>
    !before.some((one) => one.entry === entry && one.hash === hash);
  const all = [...before, ...pictures.filter(isNew)];
  await writeWhole(path, `${JSON.stringify({ schema: SCHEMA, pictures: all }, null, 2)}\n`, {
    replace: true,
  });
}
