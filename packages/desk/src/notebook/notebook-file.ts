/** The notebook as a file: opened, and written whole. */
import { createNotebook, openNotebook, saveNotebook, startNotebooks, type Notebook } from '@tepal/notebook';
import { readFile, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { exists, writeWhole } from '../files/write.ts';

/** Its name inside a folder. */
export const NOTEBOOK_FILE = 'notebook.automerge';

let started: Promise<void> | null = null;

/** Makes notebooks usable; the first call loads what they need. */
export function readyNotebooks(): Promise<void> {
  started ??= (async () => {
    const wasm = createRequire(import.meta.url).resolve('@automerge/automerge/automerge.wasm');
    await startNotebooks(await readFile(wasm));
  })();
  return started;
}

/** The file that a path means: itself, or the notebook inside the folder it names. */
export async function notebookPath(path: string): Promise<string> {
  try {
    return (await stat(path)).isDirectory() ? join(path, NOTEBOOK_FILE) : path;
  } catch {
    return path;
  }
}

/**
 * @param path a notebook's file, or the folder it lies in
 * @throws DeskFault with a sentence when there is none, or it cannot be understood
 */
export async function openNotebookFile(path: string): Promise<Notebook> {
  await readyNotebooks();
  const file = await notebookPath(path);
  let bytes: Uint8Array;
  try {
    bytes = await readFile(file);
  } catch (error) {
    throw new DeskFault(`The notebook ${file} cannot be read: ${reasonOf(error)}.`, 3);
  }
  const opened = openNotebook(bytes);
  if (!opened.ok) throw new DeskFault(`The notebook ${file} cannot be opened: ${opened.fault.message}`, 3);
  return opened.value;
}

/** The notebook of a path, or a new one where there is none yet. */
export async function openOrStartNotebook(path: string): Promise<Notebook> {
  const file = await notebookPath(path);
  if (await exists(file)) return openNotebookFile(file);
  await readyNotebooks();
  return createNotebook();
}

export async function saveNotebookFile(path: string, notebook: Notebook): Promise<void> {
  await writeWhole(await notebookPath(path), saveNotebook(notebook), { replace: true });
}
