/** Writing files so that nothing half-written ever stands under its final name. */
import { randomBytes } from 'node:crypto';
import { access, link, open, rename, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { DeskFault, reasonOf } from './faults.ts';

/**
 * Refuses an output that is there already, before any work is done for it.
 *
 * @throws DeskFault (wrong use) when it exists and may not be replaced, or when its folder does not exist
 */
export async function checkOutput(path: string, options: { replace: boolean }): Promise<void> {
  if (!(await exists(dirname(path)))) {
    throw new DeskFault(`The folder ${dirname(path)} for the output does not exist; make it first.`);
  }
  if (!options.replace && (await exists(path))) {
    throw new DeskFault(`${path} is there already; choose another name, or say --replace.`);
  }
}

/** A name beside the final one, on the same disk, hidden and of the same ending. */
export function temporaryName(path: string): string {
  return join(dirname(path), `.tepal-${randomBytes(6).toString('hex')}-${basename(path)}`);
}

/**
 * Puts a finished temporary file under its final name: flushed to the disk first, then renamed.
 *
 * @throws DeskFault when the disk is full, or the output has appeared meanwhile and may not be replaced
 */
export async function settle(temporary: string, path: string, options: { replace: boolean }): Promise<void> {
  try {
    const file = await open(temporary, 'r+');
    try {
      await file.sync();
    } finally {
      await file.close();
    }
    if (options.replace) await rename(temporary, path);
    else await putNew(temporary, path);
    await syncFolder(dirname(path));
  } catch (error) {
    await unlink(temporary).catch(() => undefined);
    if (error instanceof DeskFault) throw error;
    throw new DeskFault(`${path} could not be written: ${reasonOf(error)}.`, 3);
  }
}

/** A rename that never replaces: a hard link fails when the name is taken; disks without links get check and rename. */
async function putNew(temporary: string, path: string): Promise<void> {
  try {
    await link(temporary, path);
    await unlink(temporary);
  } catch (error) {
    const code = (error as { code?: string }).code;
    if (code === 'EEXIST' || (await exists(path))) {
      throw new DeskFault(`${path} has appeared meanwhile; choose another name, or say --replace.`);
    }
    await rename(temporary, path);
  }
}

/** Writes bytes under a temporary name, flushes and renames. */
export async function writeWhole(
  path: string,
  bytes: Uint8Array | string,
  options: { replace: boolean },
): Promise<void> {
  await checkOutput(path, options);
  const temporary = temporaryName(path);
  try {
    const file = await open(temporary, 'wx');
    try {
      await file.writeFile(bytes);
    } finally {
      await file.close();
    }
  } catch (error) {
    await unlink(temporary).catch(() => undefined);
    throw new DeskFault(`${path} could not be written: ${reasonOf(error)}.`, 3);
  }
  await settle(temporary, path, options);
}

export async function exists(path: string): Promise<boolean> {
  try {
    await access(path);
    return true;
  } catch {
    return false;
  }
}

async function syncFolder(path: string): Promise<void> {
  try {
    const folder = await open(path, 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  } catch {
    // Some systems cannot flush a folder; the file itself is on the disk.
  }
}
