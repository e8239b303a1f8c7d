/**
 * Frames that are out, moved with their companions to a folder beside the one they came home in, and brought back.
 * Each move is noted before it is made: after a kill at any moment every file is in one of its two places, and known.
 */
import type { MovedOuts } from '@tepal/formats';
import { mkdir, rename } from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { exists } from '../files/write.ts';
import type { Move } from '../library/choices.ts';
import type { Library } from '../library/library.ts';
import { sharedBases, sidecarsThere } from './sidecars.ts';

/** The folder beside: "meadow" has "meadow, outs". */
export function besideOf(folder: string): string {
  return join(dirname(folder), `${basename(folder)}, outs`);
}

/** Moves every frame decided as out, each with the raw, JPEG and sidecars of the same picture. */
export async function moveOuts(library: Library, folder: string): Promise<MovedOuts> {
  const beside = besideOf(folder);
  const decisions = library.decisions();
  const away = new Set(library.moves().map(({ from }) => from));
  const moved: { file: string; files: number }[] = [];
  const failed: { file: string; reason: string }[] = [];
  const { frames } = library.measuring(folder);
  const shared = sharedBases(frames.map(({ measured }) => measured.file));
  for (const { id, measured } of frames) {
    const main = join(folder, measured.file);
    if (decisions.get(id) !== 'out' || away.has(main)) continue;
    // Sidecars may have been written since the folder was looked at.
    const companions = measured.companions.map((companion) => join(folder, companion));
    const sidecars = await sidecarsThere(main, shared(measured.file));
    const files = [...new Set([main, ...companions, ...sidecars])];
    const moves = files.map((from): Move => {
      return { frameId: id, from, to: join(beside, relative(folder, from)), isFrame: from === main };
    });
    try {
      moved.push({ file: measured.file, files: await moveTogether(library, moves) });
    } catch (error) {
      failed.push({ file: measured.file, reason: reasonOf(error) });
    }
  }
  return { beside, moved, failed };
}

/** Brings back everything that was moved out of a folder. */
export async function bringBackOuts(library: Library, folder: string): Promise<MovedOuts> {
  const moved: { file: string; files: number }[] = [];
  const failed: { file: string; reason: string }[] = [];
  for (const move of library.moves().toReversed()) {
    const file = relative(folder, move.from);
    if (file.startsWith('..')) continue;
    try {
      await moveOne(move.to, move.from);
      library.forgetMove(move);
      if (move.isFrame) {
        library.frameMoved(move.frameId, move.from);
        moved.push({ file, files: 1 });
      }
    } catch (error) {
      failed.push({ file, reason: reasonOf(error) });
    }
  }
  return { beside: besideOf(folder), moved, failed };
}

/** All files of one picture or none: when one cannot be moved, those before it go back. */
async function moveTogether(library: Library, moves: readonly Move[]): Promise<number> {
  const done: Move[] = [];
  try {
    for (const move of moves) {
      await mkdir(dirname(move.to), { recursive: true });
      library.noteMove(move);
      done.push(move);
      await moveOne(move.from, move.to);
      if (move.isFrame) library.frameMoved(move.frameId, move.to);
    }
  } catch (error) {
    for (const move of done.toReversed()) {
      if ((await exists(move.to)) && !(await exists(move.from))) await rename(move.to, move.from);
      library.forgetMove(move);
      if (move.isFrame) library.frameMoved(move.frameId, move.from);
    }
    throw error;
  }
  return moves.length;
}

/** A rename on one disk that never replaces a file; a file that has gone the way already is no fault. */
async function moveOne(from: string, to: string): Promise<void> {
  const [here, there] = [await exists(from), await exists(to)];
  if (!here && there) return;
  if (there) throw new DeskFault(`${to} is there already, and is not replaced`);
  try {
    await rename(from, to);
  } catch (error) {
    const otherDisk = (error as { code?: string }).code === 'EXDEV';
    throw otherDisk ? new DeskFault('the folder beside lies on another disk; nothing was moved') : error;
  }
}
