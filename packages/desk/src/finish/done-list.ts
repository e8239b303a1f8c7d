/** The list of what was done, beside the picture: NAME.done.json. Read, written, and answered where there is none. */
import { deedsOfSteps } from '@tepal/advice';
import {
  readDone,
  readFinishSteps,
  type Deed,
  type DoneDocument,
  type FinishStepsDocument,
} from '@tepal/formats';
import { readFile } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { contentHash } from '../files/hash.ts';
import { DeskFault } from '../files/faults.ts';
import { readJson } from '../files/read-json.ts';
import { exists } from '../files/write.ts';

/** Where the list of a picture lies. */
export function doneListPath(picture: string): string {
  return join(dirname(picture), `${basename(picture, extname(picture))}.done.json`);
}

/**
 * A file of steps, or the steps in a list of what was done.
 *
 * @throws DeskFault with a sentence that names the field, or says that a newer version wrote it
 */
export async function readSteps(path: string): Promise<FinishStepsDocument> {
  const json = await readJson(path);
  const isList =
    typeof json === 'object' &&
    json !== null &&
    String((json as { schema?: unknown }).schema).startsWith('tepal/done/');
  if (isList) {
    const list = readDone(json);
    if (!list.ok) throw new DeskFault(`${path}: ${list.fault.message}`);
    if (list.value.steps === null) throw new DeskFault(`${path} holds no steps.`);
    return list.value.steps;
  }
  const steps = readFinishSteps(json);
  if (!steps.ok) throw new DeskFault(`${path}: ${steps.fault.message}`);
  return steps.value;
}

/** The list beside a picture; null where there is none. @throws DeskFault where it cannot be read */
export async function readDoneBeside(picture: string): Promise<DoneDocument | null> {
  const path = doneListPath(picture);
  if (!(await exists(path))) return null;
  const read = readDone(await readJson(path));
  if (!read.ok) throw new DeskFault(`${path}: ${read.fault.message}`);
  return read.value;
}

/** The list of a picture made from another by steps; what was done to that one before comes first. */
export async function doneListOf(made: {
  readonly output: string;
  readonly source: string;
  readonly steps: FinishStepsDocument | null;
  /** The list of the source; null where it has none. */
  readonly before: DoneDocument | null;
  readonly alsoDone?: readonly Deed[];
  /** Whether it was sharpened for its size; the steps only wish it for the delivery. */
  readonly sharpened?: boolean;
}): Promise<DoneDocument> {
  const { output, source, steps, before, alsoDone = [], sharpened = false } = made;
  const bySteps = steps === null ? [] : deedsOfSteps(steps).filter(({ deed }) => deed !== 'sharpening');
  const sharpening = deedsOfSteps({ schema: 'tepal/finish-steps/1', sharpening: { strength: 1 } });
  const original = before?.original ?? { file: basename(source), hash: contentHash(await readFile(source)) };
  return {
    schema: 'tepal/done/1',
    picture: basename(output),
    original,
    finishedElsewhere: before?.finishedElsewhere ?? false,
    deeds: [...(before?.deeds ?? []), ...alsoDone, ...bySteps, ...(sharpened ? sharpening : [])],
    steps: steps ?? before?.steps ?? null,
  };
}
