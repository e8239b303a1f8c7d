/** The frames of one burst at their moments: which file comes when, and how long after the first. */
import { parseWrittenTime } from '@tepal/formats';
import { openFrame, type OpenFrame } from '../decode/open-frame.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { walkPhotographs, type FoundPhotograph } from '../files/walk.ts';

export interface BurstFrame {
  readonly photograph: FoundPhotograph;
  readonly atS: number;
}

export interface Burst {
  readonly frames: readonly BurstFrame[];
  readonly times: 'camera' | 'interval';
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
}

/**
 * @param intervalS an even time from frame to frame, in the order of the names; else the camera's own times count
 * @throws DeskFault when the folder holds no frames, or times too coarse to part them
 */
export async function burstOf(folder: string, intervalS: number | null): Promise<Burst> {
  const walk = await walkPhotographs(folder);
  const failed = walk.faults.map(({ path, reason }) => ({ file: path, reason }));
  if (walk.photographs.length === 0) {
    throw new DeskFault(`There are no photographs in ${folder}; sway takes the frames of one burst.`, 3);
  }
  if (intervalS !== null) {
    const frames = walk.photographs.map((photograph, i) => ({ photograph, atS: i * intervalS }));
    return { frames, times: 'interval', failed };
  }
  const timed: { photograph: FoundPhotograph; ms: number }[] = [];
  for (const photograph of walk.photographs) {
    try {
      const ms = takenAtMs(await openFrame(photograph.path, photograph.kind));
      if (ms === null) throw new DeskFault('It says no time; --interval-s gives one to all frames.');
      timed.push({ photograph, ms });
    } catch (error) {
      failed.push({ file: photograph.file, reason: reasonOf(error) });
    }
  }
  timed.sort((a, b) => a.ms - b.ms);
  const same = timed.find(({ ms }, i) => i > 0 && ms === timed[i - 1]!.ms);
  if (same !== undefined) {
    throw new DeskFault(
      `${same.photograph.file} and the frame before it bear the same time: the camera wrote no fractions of a second that part them. Give the time between frames, such as --interval-s 0.1.`,
    );
  }
  const start = timed[0]?.ms ?? 0;
  return {
    frames: timed.map(({ photograph, ms }) => ({ photograph, atS: (ms - start) / 1000 })),
    times: 'camera',
    failed,
  };
}

function takenAtMs({ said, raw }: OpenFrame): number | null {
  const written = said?.takenAt ?? raw?.header.takenAt ?? null;
  return written === null ? null : (parseWrittenTime(written)?.localMs ?? null);
}
