/**
 * A folder that two computers see: each puts files of its own there and takes in those of all others.
 *
 * A file is named by its content, so two writers never have the same name for different things, and none is ever
 * changed once it stands. A device removes only files whose every change is in the file it has just written.
 */
import {
  EXCHANGE_ENDING,
  notebookHeads,
  readExchange,
  takeExchange,
  writeExchange,
  type Notebook,
} from '@tepal/notebook';
import { createHash } from 'node:crypto';
import { readdir, readFile, unlink } from 'node:fs/promises';
import { join } from 'node:path';
import { DeskFault, reasonOf, type FileFault } from '../files/faults.ts';
import { exists, writeWhole } from '../files/write.ts';

export interface FolderExchange {
  readonly notebook: Notebook;
  /** Files taken in: whose, and how many changes were new. */
  readonly taken: readonly { readonly file: string; readonly from: string; readonly fresh: number }[];
  /** The file that now stands for this device. */
  readonly written: string;
  readonly faults: readonly FileFault[];
}

/**
 * Takes in every file of the folder and leaves one that holds everything.
 *
 * @param from what this device is called
 * @throws DeskFault where the folder cannot be read or written
 */
export async function exchangeThroughFolder(
  notebook: Notebook,
  folder: string,
  from: string,
): Promise<FolderExchange> {
  const names = await readdir(folder).catch((error: unknown) => {
    throw new DeskFault(`The folder ${folder} cannot be read: ${reasonOf(error)}.`, 3);
  });
  const faults: FileFault[] = [];
  const taken: FolderExchange['taken'][number][] = [];
  const understoodFiles = new Map<string, Buffer>();
  let now = notebook;
  // A folder that is kept in step by another program names copies as it likes; the ending is enough.
  for (const file of names.filter((name) => name.includes(EXCHANGE_ENDING) && !name.startsWith('.')).sort()) {
    const path = join(folder, file);
    let bytes: Buffer;
    try {
      bytes = await readFile(path);
    } catch (error) {
      // Removed by another device since the folder was listed: its changes stand in that device's new file.
      if ((error as { code?: string }).code !== 'ENOENT') {
        faults.push({ path, reason: `It cannot be read: ${reasonOf(error)}.` });
      }
      continue;
    }
    const answer = takeExchange(now, bytes);
    if (!answer.ok) {
      faults.push({ path, reason: answer.fault.message });
      continue;
    }
    now = answer.value.notebook;
    understoodFiles.set(file, bytes);
    if (answer.value.fresh > 0) taken.push({ file, from: answer.value.from, fresh: answer.value.fresh });
  }
  const written = await leaveWhole(now, folder, from);
  await removeTaken(folder, understoodFiles, written);
  return { notebook: now, taken, written, faults };
}

async function leaveWhole(notebook: Notebook, folder: string, from: string): Promise<string> {
  const bytes = writeExchange(notebook, { from });
  const mark = createHash('sha256')
    .update(notebookHeads(notebook).join())
    .update(from)
    .digest('hex')
    .slice(0, 16);
  const file = `${mark}${EXCHANGE_ENDING}`;
  const path = join(folder, file);
  // The same state of the same device is there already, unless it is damaged.
  if (!(await exists(path)) || !readExchange(await readFile(path)).ok) {
    await writeWhole(path, bytes, { replace: true });
  }
  return file;
}

/** Removes files that were taken in, as long as they are still what was taken; another device may be faster. */
async function removeTaken(
  folder: string,
  files: ReadonlyMap<string, Buffer>,
  written: string,
): Promise<void> {
  for (const [file, taken] of files) {
    if (file === written) continue;
    const path = join(folder, file);
    const bytes = await readFile(path).catch(() => null);
    if (bytes?.equals(taken) === true) await unlink(path).catch(() => undefined);
  }
}
