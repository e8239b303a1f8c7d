/** A notebook as a file: opened, and saved whole under a temporary name. */
import {
  createNotebook,
  mergeNotebooks,
  openNotebook,
  saveNotebook,
  startNotebooks,
  type Notebook,
} from '@tepal/notebook';
import { readFile, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { writeWhole } from '../files/write.ts';
import { alone } from './file-lock.ts';

const NAME = 'notebook.automerge';

/** Makes notebooks usable in this process. */
export async function readyNotebooks(): Promise<void> {
  const wasm = createRequire(import.meta.url).resolve('@automerge/automerge/automerge.wasm');
  await startNotebooks(await readFile(wasm));
}

/** The file of a notebook given by its own path or by its folder's. */
export async function notebookPath(fileOrFolder: string): Promise<string> {
  const found = await stat(fileOrFolder).catch(() => null);
  return found?.isDirectory() ? join(fileOrFolder, NAME) : fileOrFolder;
}

/**
 * @returns the notebook and its warnings; where there is no file yet, an empty one if `create`
 * @throws DeskFault with a sentence when it cannot be read
 */
export async function readNotebook(
  fileOrFolder: string,
  options: { readonly create: boolean },
): Promise<{ readonly path: string; readonly notebook: Notebook; readonly warnings: readonly string[] }> {
  await readyNotebooks();
  const path = await notebookPath(fileOrFolder);
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    if (options.create && (error as { code?: string }).code === 'ENOENT') {
      return { path, notebook: createNotebook(), warnings: [] };
    }
    throw new DeskFault(`The notebook ${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
  const opened = openNotebook(bytes);
  if (!opened.ok) throw new DeskFault(`The notebook ${path} cannot be opened. ${opened.fault.message}`, 3);
  return { path, notebook: opened.value, warnings: opened.warnings };
}

/**
 * Saves a notebook. What another program saved in the meantime is merged in, never overwritten.
 *
 * @param notebook stays usable
 * @throws DeskFault where the file cannot be written, or what stands there is no notebook
 */
export async function writeNotebook(path: string, notebook: Notebook): Promise<void> {
  await alone(path, async () => {
    const there = await readFile(path).catch((error: { code?: string }) => {
      if (error.code === 'ENOENT') return null;
      throw new DeskFault(`The notebook ${path} cannot be read: ${reasonOf(error)}.`, 3);
    });
    let whole = notebook;
    if (there !== null) {
      const opened = openNotebook(there);
      if (!opened.ok)
        throw new DeskFault(`${path} was left as it is: it cannot be opened. ${opened.fault.message}`, 3);
      whole = mergeNotebooks(opened.value, notebook);
    }
    await writeWhole(path, saveNotebook(whole), { replace: true });
  });
}
