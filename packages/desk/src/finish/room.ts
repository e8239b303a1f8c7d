/** Whether a disk has room for what is to be written. */
import { statfs } from 'node:fs/promises';
import { dirname } from 'node:path';
import { DeskFault } from '../files/faults.ts';

/** A disk with less than this left counts as full [byte]. */
const NOTHING_LEFT = 64 * 1024;

/**
 * Refuses before any work is done for a file that cannot fit.
 *
 * @param bytes what is to be written; 0 only asks whether the disk is full
 * @throws DeskFault: the disk is full
 */
export async function requireRoom(output: string, bytes: number): Promise<void> {
  let free: number;
  try {
    const { bavail, bsize } = await statfs(dirname(output));
    free = bavail * bsize;
  } catch {
    // A system that does not say how full it is lets the writing find out.
    return;
  }
  if (free >= Math.max(NOTHING_LEFT, bytes)) return;
  const megabytes = (value: number) => `${(value / 1e6).toFixed(value < 1e7 ? 1 : 0)} MB`;
  const needed = bytes === 0 ? '' : `about ${megabytes(bytes)} are needed, and `;
  throw new DeskFault(
    `The disk is full: ${needed}${megabytes(free)} are left in ${dirname(output)}. Make room and try again.`,
    3,
  );
}
