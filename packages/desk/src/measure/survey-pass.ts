/** The first pass over a folder: one decode a frame, its survey kept in the library, its facts in memory. */
import { picturesOf } from '@tepal/advice';
import { stat } from 'node:fs/promises';
import type { FrameFacts } from '../decode/describe.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { walkPhotographs, type FoundPhotograph } from '../files/walk.ts';
import type { Library } from '../library/library.ts';
import type { Pool } from './pool.ts';
import type { WindowStore } from './second-look/windows.ts';

/** A frame after the first pass. */
export interface SurveyedFrame {
  readonly id: string;
  readonly path: string;
  readonly file: string;
  readonly kind: PhotographKind;
  readonly facts: FrameFacts;
  readonly guess: { readonly x: number; readonly y: number };
  readonly companions: readonly string[];
}

export interface SurveyPass {
  readonly frames: readonly SurveyedFrame[];
  readonly failed: readonly { readonly file: string; readonly reason: string }[];
}

export interface PassOptions {
  readonly folder: string;
  readonly library: Library;
  readonly pool: Pool;
  readonly signal: AbortSignal;
  /** Where each decoded frame leaves a window for the second look. */
  readonly windows?: WindowStore;
  tell(progress: { done?: number; total?: number; saying?: string }): void;
}

/**
 * Surveys every photograph under a folder; what the library knows unchanged is not decoded again.
 *
 * @throws DeskFault with status 3 when the folder cannot be read or holds no photograph
 */
export async function surveyFolder(options: PassOptions): Promise<SurveyPass> {
  const { folder, pool, signal, tell } = options;
  const walk = await walkPhotographs(folder);
  const failed = walk.faults.map(({ path, reason }) => ({ file: path, reason }));
  if (walk.photographs.length === 0 && failed.length === 0) {
    throw new DeskFault(
      `There are no photographs in ${folder}; JPEG, PNG, TIFF and raw files are looked for, hidden ones passed over.`,
      3,
    );
  }
  const found = new Map(walk.photographs.map((photograph) => [photograph.file, photograph]));
  const pictures = groupByPicture(walk.photographs);
  const frames: SurveyedFrame[] = [];
  const claimed = new Set<string>();
  // Two files of one content are two frames: the second gets a mark of its own.
  const claim = (id: string): string => {
    let free = id;
    for (let n = 2; claimed.has(free); n += 1) free = `${id}~${n}`;
    claimed.add(free);
    return free;
  };
  let done = 0;
  tell({ done, total: pictures.length, saying: 'Looking at every frame once.' });

  const survey = async ({ main, companions }: { main: string; companions: readonly string[] }) => {
    if (signal.aborted) return;
    const photograph = found.get(main);
    if (photograph === undefined) return;
    try {
      const one = await surveyOne(photograph, options, claim);
      // What Tepal itself made of frames is no frame.
      if (!one.facts.madeByTepal) frames.push({ ...one, companions });
    } catch (error) {
      if (!signal.aborted) failed.push({ file: photograph.file, reason: reasonOf(error) });
    }
    done += 1;
    tell({ done });
  };
  await inTurn(pictures, pool.size * 2, survey);
  if (signal.aborted) throw new DeskFault('The work was stopped.');
  const order = new Map(pictures.map(({ main }, i) => [main, i]));
  frames.sort((a, b) => (order.get(a.file) ?? 0) - (order.get(b.file) ?? 0));
  return { frames, failed: failed.sort((a, b) => (a.file < b.file ? -1 : 1)) };
}

/** Files of one picture by advice's rule; a file whose name promises nothing stands alone. */
function groupByPicture(photographs: readonly FoundPhotograph[]) {
  const files = photographs.map(({ file }) => file);
  const { pictures } = picturesOf(files);
  const known = new Set(pictures.flatMap(({ measured, companions }) => [measured, ...companions]));
  const alone = files
    .filter((file) => !known.has(file))
    .map((main) => ({ main, companions: [] as string[] }));
  return [...pictures.map(({ measured, companions }) => ({ main: measured, companions })), ...alone];
}

async function surveyOne(
  photograph: FoundPhotograph,
  { library, pool, windows }: PassOptions,
  claim: (id: string) => string,
) {
  const { path, file, kind, bytes } = photograph;
  const { mtimeMs } = await stat(path);
  const known = library.frameAt(path);
  if (known !== null && known.bytes === bytes && known.modifiedMs === mtimeMs) {
    return { id: claim(known.id), path, file, kind, facts: known.facts, guess: known.guess };
  }
  const { id: content, facts, guess, survey, window } = await pool.run('survey', { path, kind });
  const id = claim(content);
  windows?.put(id, window);
  library.putFrame(
    { id, path, kind, bytes, modifiedMs: mtimeMs, facts, guess },
    Buffer.from(survey.buffer, survey.byteOffset, survey.byteLength),
  );
  return { id, path, file, kind, facts, guess };
}

/** Runs `work` over the items, so many at a time. */
export async function inTurn<T>(
  items: readonly T[],
  atOnce: number,
  work: (item: T, index: number) => Promise<void>,
): Promise<void> {
  let next = 0;
  const run = async () => {
    for (;;) {
      const index = next;
      next += 1;
      const item = items[index];
      if (item === undefined) return;
      await work(item, index);
    }
  };
  await Promise.all(Array.from({ length: Math.min(atOnce, items.length) }, run));
}
