/** One photograph finished by a file of steps: a 16-bit TIFF, with the list of what was done beside it. */
import { doneInWords } from '@tepal/advice';
import type { FinishDocument, FinishStepsDocument } from '@tepal/formats';
import { unlink } from 'node:fs/promises';
import { extname } from 'node:path';
import { MADE_BY_TEPAL } from '../decode/describe.ts';
import { settingTags, ownTags, captionTags } from '../deliver/caption.ts';
import { readTags, writeTags } from '../deliver/exif-tool.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { kindOfFile, type PhotographKind } from '../files/kinds.ts';
import { checkOutput, settle, temporaryName, writeWhole } from '../files/write.ts';
import type { Pool } from '../measure/pool.ts';
import { doneListOf, doneListPath, readDoneBeside } from './done-list.ts';
import { requireRoom } from './room.ts';
import type { OutputSpace } from './spaces.ts';
import type { TellWork } from './tell.ts';

export interface FinishWish {
  readonly frame: string;
  readonly steps: FinishStepsDocument;
  readonly output: string;
  readonly space: OutputSpace;
  readonly replace: boolean;
  readonly pool: Pool;
  readonly tell?: TellWork;
}

/**
 * Finishes.
 *
 * The list is written before the picture, so that the picture never stands without it; both under temporary names
 * first. Of the photograph's tags only settings, creator and rights go along; its place does not.
 *
 * @throws DeskFault with a sentence; DomainError where a step is out of its range
 */
export async function finishFile(wish: FinishWish): Promise<FinishDocument> {
  const { frame, steps, output, space, replace, pool } = wish;
  const end = extname(output).toLowerCase();
  if (end !== '.tif' && end !== '.tiff') {
    throw new DeskFault(
      `A finished picture is a 16-bit TIFF: the output needs the ending .tif, but ${output} has ${end === '' ? 'none' : end}.`,
    );
  }
  const list = doneListPath(output);
  await checkOutput(output, { replace });
  await checkOutput(list, { replace });
  const kind = await photographKind(frame);
  const tags = await readTags(frame);
  const before = await readDoneBeside(frame);
  const temporary = temporaryName(output);
  try {
    const made = await pool.run(
      'render',
      {
        ...{ source: { path: frame, kind }, steps, size: { kind: 'own' }, sharpening: null },
        colour: { kind: 'space', space },
        file: { kind: 'tiff', path: temporary },
      },
      (progress) => wish.tell?.({ total: 0, ...progress }),
    );
    await writeTags(temporary, {
      ...settingTags(tags),
      ...captionTags(ownTags(tags)),
      'IFD0:Software': MADE_BY_TEPAL,
    });
    const done = await doneListOf({ output, source: frame, steps, before });
    await writeWhole(list, `${JSON.stringify(done, null, 2)}\n`, { replace });
    await settle(temporary, output, { replace });
    return {
      schema: 'tepal/finish/1',
      output,
      doneList: list,
      widthPx: made.widthPx,
      heightPx: made.heightPx,
      profile: made.profile,
      whiteBalance:
        made.developed === null
          ? null
          : { temperatureK: made.developed.temperatureK, guessed: made.developed.balanceGuessed },
      highlights: made.developed?.highlights ?? null,
      outsideGamut: made.outsideGamut,
      done: done.deeds.map(({ words }) => words),
      notes: [...made.notes, ...(done.deeds.length === 0 ? [`Done: ${doneInWords([])}.`] : [])],
    };
  } catch (error) {
    throw await asFault(error, output);
  } finally {
    await unlink(temporary).catch(() => undefined);
  }
}

/** The kind of a file that must be a photograph. @throws DeskFault with a sentence */
export async function photographKind(path: string): Promise<PhotographKind> {
  try {
    const kind = await kindOfFile(path);
    if (kind.is === 'photograph') return kind.kind;
    throw new DeskFault(
      kind.is === 'wrong' ? `${path}: ${kind.reason}` : `${path} is no JPEG, PNG, TIFF or raw picture.`,
      3,
    );
  } catch (error) {
    if (error instanceof DeskFault) throw error;
    throw new DeskFault(`${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
}

/** Faults of the disk that come out of a thread as the system's own words. */
const SYSTEM_WORDS: readonly (readonly [RegExp, string])[] = [
  [/^ENOSPC/, 'the disk is full; make room and try again'],
  [/^EFBIG/, 'the file is larger than the disk, or your account, allows'],
  [/^EDQUOT/, 'your share of the disk is used up'],
];

/** A fault of the work as a sentence; a full disk is told as one, whoever met it first. */
export async function asFault(error: unknown, output: string): Promise<unknown> {
  if (error instanceof Error && error.name === 'DomainError') return error;
  const full = await requireRoom(output, 0).then(
    () => null,
    (fault: unknown) => fault,
  );
  if (full !== null) return full;
  if (error instanceof DeskFault) return error;
  const reason = reasonOf(error);
  // A fault that crossed a thread is its sentence alone.
  if (/^[A-Z][^:]* .*\.$/s.test(reason)) return new DeskFault(reason, 3);
  const told = SYSTEM_WORDS.find(([words]) => words.test(reason))?.[1] ?? reason.replace(/\.$/, '');
  return new DeskFault(`${output} could not be made: ${told}.`, 3);
}
