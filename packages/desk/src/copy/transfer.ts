/** One file copied to one or two disks at a time: read once, flushed, read back, compared, and only then named. */
import { createHash, randomBytes } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import { reasonOf } from '../files/faults.ts';
import type { CardFile } from './card.ts';
import type { Disk, Writing } from './disk.ts';
import { eachChunk, hashFile } from './known.ts';

/** How it went for one of the targets. */
export type Landing =
  | { readonly is: 'safe'; readonly path: string }
  | { readonly is: 'failed'; readonly path: string; readonly why: string; readonly full: boolean };

export interface Transfer {
  /** Of what was read from the card; null when it could not be read to its end. */
  readonly hash: string | null;
  readonly landings: readonly Landing[];
  /** Why the card could not be read; null when it could. */
  readonly cardFault: string | null;
}

/** Temporary names carry the number of the process that writes them, so that what a dead one left can be told. */
const TEMPORARY = /^\.tepal-copy-(\d+)-[0-9a-f]+\.part$/;
const temporaryName = () => `.tepal-copy-${process.pid}-${randomBytes(6).toString('hex')}.part`;

/** There is nothing left to read the card for. */
const ALL_FAILED = new Error('every target has failed');

interface Lane {
  readonly final: string;
  readonly temporary: string;
  writing: Writing | null;
  fault: unknown;
}

/**
 * Copies a file. A target that fails does not stop the other.
 *
 * @param finals where it goes, one path a disk; their folders exist
 */
export async function transfer(disk: Disk, source: CardFile, finals: readonly string[]): Promise<Transfer> {
  const lanes: Lane[] = finals.map((final) => ({
    final,
    temporary: join(dirname(final), temporaryName()),
    writing: null,
    fault: undefined,
  }));
  const eachOf = (work: (lane: Lane) => Promise<void>) =>
    Promise.all(
      lanes.map(async (lane) => {
        if (lane.fault !== undefined) return;
        try {
          await work(lane);
        } catch (error) {
          lane.fault = error ?? new Error('it failed for a reason that was not given');
        }
      }),
    );

  await eachOf(async (lane) => {
    lane.writing = await disk.create(lane.temporary);
  });
  const sum = createHash('sha256');
  let cardFault: string | null = null;
  try {
    const bytes = await eachChunk(disk, source.path, async (chunk) => {
      sum.update(chunk);
      await eachOf(async ({ writing }) => writing?.write(chunk));
      if (lanes.every(({ fault }) => fault !== undefined)) throw ALL_FAILED;
    });
    if (bytes !== source.bytes) {
      cardFault = `it ended after ${bytes} of ${source.bytes} bytes`;
    }
  } catch (error) {
    if (error !== ALL_FAILED) cardFault = reasonOf(error);
  }
  const allFailed = lanes.every(({ fault }) => fault !== undefined);
  const hash = cardFault === null && !allFailed ? `sha256:${sum.digest('hex')}` : null;
  await eachOf(async (lane) => {
    if (hash === null) return;
    const { writing } = lane;
    lane.writing = null;
    await writing?.finish(source.modifiedMs);
    if ((await hashFile(disk, lane.temporary)) !== hash) {
      throw new Error('what was read back differs from what was written; the disk or its cable is not sound');
    }
    await disk.settle(lane.temporary, lane.final);
  });
  return { hash, cardFault, landings: await Promise.all(lanes.map((lane) => landed(disk, lane, cardFault))) };
}

async function landed(disk: Disk, lane: Lane, cardFault: string | null): Promise<Landing> {
  const { final: path, fault } = lane;
  if (cardFault === null && fault === undefined) return { is: 'safe', path };
  await lane.writing?.abandon().catch(() => undefined);
  await disk.remove(lane.temporary).catch(() => undefined);
  const full = (fault as { code?: string } | undefined)?.code === 'ENOSPC';
  const why = fault === undefined ? `The card: ${cardFault}.` : `${reasonOf(fault)}.`;
  return { is: 'failed', path, why: why.charAt(0).toUpperCase() + why.slice(1), full };
}

/** Takes away temporary files that a copy left which was stopped; those of a copy at work stay. */
export async function removeLeftovers(disk: Disk, folder: string): Promise<void> {
  const entries = await disk.list(folder).catch(() => []);
  for (const { name, is } of entries) {
    const process = TEMPORARY.exec(basename(name))?.[1];
    if (is === 'file' && process !== undefined && !isRunning(Number(process))) {
      await disk.remove(join(folder, name)).catch(() => undefined);
    }
  }
}

function isRunning(pid: number): boolean {
  if (pid === process.pid) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: string }).code === 'EPERM';
  }
}
