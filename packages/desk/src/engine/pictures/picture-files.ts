/** Where the engine keeps what belongs to a picture: its steps and their history, its full size, its maps. */
import {
  readFinishSteps,
  type FinishStepsDocument,
  type KeptSteps,
  type Picture,
  type PictureSource,
} from '@tepal/formats';
import { mkdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { DeskFault } from '../../files/faults.ts';
import { readJson } from '../../files/read-json.ts';
import { exists, writeWhole } from '../../files/write.ts';
import { photographKind } from '../../finish/finish.ts';
import { EngineRefusal } from '../guard.ts';
import type { Store } from '../stores.ts';

/** A frame or a picture with its file, as the desk works on it. */
export interface OpenedSource {
  readonly path: string;
  readonly title: string;
  readonly picture: Picture | null;
}

/** @throws EngineRefusal where the library does not hold it */
export function openedSource(store: Store, of: PictureSource): OpenedSource {
  if (of.pictureId !== undefined) {
    const found = store.library.pictures().find(({ id }) => id === of.pictureId);
    if (found === undefined) throw new EngineRefusal(404, 'That picture is not in the library.');
    return { path: found.path, title: found.title, picture: found };
  }
  return { path: framePath(store, of.frameId), title: '', picture: null };
}

/** @throws DeskFault where the frame is not in the library */
export function framePath(store: Store, frameId: string): string {
  const found = store.library.frame(frameId);
  if (found === null) throw new DeskFault('That frame is not in the library; measure its folder again.');
  return found.path;
}

/** A file of the engine's own beside a picture: steps, history, the full size. */
export function besideFile(store: Store, of: PictureSource, end: string): string {
  const name = of.pictureId ?? of.frameId;
  const folder = of.pictureId === undefined ? 'finishing' : 'pictures';
  return join(store.folder, folder, `${name.replace(/[^A-Za-z0-9-]/g, '-')}.${end}`);
}

const NOTHING: FinishStepsDocument = { schema: 'tepal/finish-steps/1' };

/** @throws DeskFault where a newer version wrote the file, or a field of it is wrong */
export async function readKeptSteps(store: Store, of: PictureSource): Promise<KeptSteps> {
  const file = besideFile(store, of, 'steps.json');
  if (!(await exists(file))) return { steps: NOTHING, before: [], after: [], file, warnings: [] };
  const read = readFinishSteps(await readJson(file));
  if (!read.ok) throw new DeskFault(`${file}: ${read.fault.message}`);
  const { before, after } = await readHistory(besideFile(store, of, 'undo.json'));
  return { steps: read.value, before, after, file, warnings: read.warnings };
}

/** The history is a convenience: what cannot be read of it is left out. */
async function readHistory(path: string): Promise<Pick<KeptSteps, 'before' | 'after'>> {
  try {
    const json = JSON.parse(await readFile(path, 'utf8')) as { before?: unknown; after?: unknown };
    return { before: stepsList(json.before), after: stepsList(json.after) };
  } catch {
    return { before: [], after: [] };
  }
}

/** Those of a list that are steps. */
export function stepsList(list: unknown): readonly FinishStepsDocument[] {
  if (!Array.isArray(list)) return [];
  return list.flatMap((one) => {
    const read = readFinishSteps(one);
    return read.ok ? [read.value] : [];
  });
}

export async function writeKeptSteps(
  store: Store,
  of: PictureSource,
  kept: Pick<KeptSteps, 'steps' | 'before' | 'after'>,
): Promise<KeptSteps> {
  const file = besideFile(store, of, 'steps.json');
  await mkdir(dirname(file), { recursive: true });
  const history = { schema: 'tepal/finish-undo/1', before: kept.before, after: kept.after };
  await writeWhole(besideFile(store, of, 'undo.json'), `${JSON.stringify(history)}\n`, { replace: true });
  await writeWhole(file, `${JSON.stringify(kept.steps, null, 2)}\n`, { replace: true });
  return { ...kept, file, warnings: [] };
}

/** The kind of the file behind a source, for the threads. */
export async function sourceFile(store: Store, of: PictureSource) {
  const { path } = openedSource(store, of);
  return { path, kind: await photographKind(path) };
}
