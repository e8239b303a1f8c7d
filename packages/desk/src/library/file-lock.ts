/** One writer at a time: a small file beside the one that is written, which says who is writing. */
import { open, readFile, stat, unlink } from 'node:fs/promises';
import { hostname } from 'node:os';
import { setTimeout as wait } from 'node:timers/promises';
import { DeskFault, reasonOf } from '../files/faults.ts';

const LONGEST_WAIT_MS = 10_000;
const BETWEEN_TRIES_MS = 15;
/** A lock of another computer that is older than this was left behind. */
const LEFT_BEHIND_MS = 30_000;

/**
 * Does some work while nobody else writes the same file. A lock whose writer is gone is taken over.
 *
 * @throws DeskFault where another program holds it for ten seconds, or the folder cannot be written
 */
export async function alone<T>(path: string, work: () => Promise<T>): Promise<T> {
  const lock = `${path}.lock`;
  const since = performance.now();
  while (!(await taken(lock))) {
    if (await leftBehind(lock)) await unlink(lock).catch(() => undefined);
    else if (performance.now() - since > LONGEST_WAIT_MS) {
      throw new DeskFault(`Another program is writing ${path}; try again when it has ended (${lock}).`, 3);
    } else await wait(BETWEEN_TRIES_MS);
  }
  try {
    return await work();
  } finally {
    await unlink(lock).catch(() => undefined);
  }
}

async function taken(lock: string): Promise<boolean> {
  try {
    const file = await open(lock, 'wx');
    try {
      await file.writeFile(`${hostname()}\n${process.pid}\n`);
    } finally {
      await file.close();
    }
    return true;
  } catch (error) {
    if ((error as { code?: string }).code === 'EEXIST') return false;
    throw new DeskFault(`${lock} could not be written: ${reasonOf(error)}.`, 3);
  }
}

async function leftBehind(lock: string): Promise<boolean> {
  const found = await stat(lock).catch(() => null);
  if (found === null) return false;
  const [host, pid] = (await readFile(lock, 'utf8').catch(() => '')).split('\n');
  const old = Date.now() - found.mtimeMs > LEFT_BEHIND_MS;
  // A lock without a name in it was being written when its writer ended, or is being written now.
  if (host !== hostname() || !/^\d+$/.test(pid ?? ''))
    return old || (host === '' && Date.now() - found.mtimeMs > 500);
  try {
    process.kill(Number(pid), 0);
    return false;
  } catch (error) {
    return (error as { code?: string }).code === 'ESRCH';
  }
}
