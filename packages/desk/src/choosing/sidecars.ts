/** Decisions as ratings in XMP sidecars beside the originals: first as a plan that can be looked at, then written. */
import { ratingStep, type Ratings } from '@tepal/advice';
import {
  readPhotoMetadata,
  readXmp,
  writeXmpRating,
  type RatingPlan,
  type RatingPlanRow,
} from '@tepal/formats';
import { open, readFile } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { reasonOf } from '../files/faults.ts';
import { exists, writeWhole } from '../files/write.ts';
import type { Library } from '../library/library.ts';

/** As much of a photograph as holds what it says of itself [byte]. */
const HEAD_BYTES = 512 * 1024;

interface Rated {
  readonly row: RatingPlanRow;
  readonly sidecar: string;
  readonly before: string | undefined;
}

/**
 * What writing the decisions on the frames of a folder would do, one row for each frame that was ever decided.
 *
 * @param options.changeOthers whether ratings that somebody else wrote may be changed
 */
export async function planRatings(
  library: Library,
  folder: string,
  options: { readonly ratings: Ratings; readonly changeOthers: boolean },
): Promise<RatingPlan> {
  const rated = await ratedFrames(library, folder, options);
  return { ratings: options.ratings, rows: rated.map(({ row }) => row) };
}

/** Writes what the plan says. A sidecar that cannot be read or written is reported; the rest goes on. */
export async function writeRatings(
  library: Library,
  folder: string,
  options: { readonly ratings: Ratings; readonly changeOthers: boolean },
): Promise<RatingPlan> {
  const rows: RatingPlanRow[] = [];
  for (const { row, sidecar, before } of await ratedFrames(library, folder, options)) {
    if (row.step.kind !== 'write' && row.step.kind !== 'remove') {
      rows.push(row);
      continue;
    }
    const rating = row.step.kind === 'write' ? row.step.rating : null;
    const packet = writeXmpRating(rating, before);
    try {
      if (!packet.ok) throw new Error(packet.fault.message);
      await writeWhole(sidecar, packet.value, { replace: before !== undefined });
      library.noteRating(row.frameId, rating);
      rows.push({ ...row, written: true });
    } catch (error) {
      rows.push({ ...row, fault: reasonOf(error) });
    }
  }
  return { ratings: options.ratings, rows };
}

async function ratedFrames(
  library: Library,
  folder: string,
  options: { readonly ratings: Ratings; readonly changeOthers: boolean },
): Promise<Rated[]> {
  const decisions = library.decisions();
  const written = library.writtenRatings();
  const { frames } = library.measuring(folder);
  const shared = sharedBases(frames.map(({ measured }) => measured.file));
  const rated: Rated[] = [];
  for (const { id, measured } of frames) {
    const decision = decisions.get(id) ?? null;
    if (decision === null && !written.has(id)) continue;
    const original = library.frame(id)?.path ?? join(folder, measured.file);
    const sidecar = await sidecarOf(original, shared(measured.file));
    const row = { frameId: id, file: measured.file, sidecar: basename(sidecar), decision, written: false };
    try {
      const before = (await exists(sidecar)) ? await readFile(sidecar, 'utf8') : undefined;
      const there = before === undefined ? await ratingInside(original) : ratingOf(before);
      const step = ratingStep({ decision, there, writtenByUs: written.get(id) ?? null, ...options });
      rated.push({ row: { ...row, step, fault: null }, sidecar, before });
    } catch (error) {
      rated.push({
        row: { ...row, step: { kind: 'nothing' }, fault: reasonOf(error) },
        sidecar,
        before: undefined,
      });
    }
  }
  return rated;
}

function ratingOf(packet: string): number | null {
  const read = readXmp(packet);
  if (!read.ok) throw new Error(`The sidecar is left alone: ${read.fault.message}`);
  return read.value.rating;
}

/** What the camera wrote into the picture itself. */
async function ratingInside(path: string): Promise<number | null> {
  const file = await open(path, 'r');
  try {
    const head = new Uint8Array(HEAD_BYTES);
    const { bytesRead } = await file.read(head, 0, HEAD_BYTES, 0);
    const read = readPhotoMetadata(head.subarray(0, bytesRead));
    return read.ok ? read.value.rating : null;
  } finally {
    await file.close();
  }
}

/** A path without its ending, in lower case: the base name that raw, JPEG and sidecar share. */
const baseOf = (path: string) => join(dirname(path), basename(path, extname(path))).toLowerCase();

/**
 * The sidecar of a picture: the one that is there, by its full name or its base name; else a new one by its base name,
 * or by its full name where another picture bears the same base name.
 */
async function sidecarOf(original: string, baseIsShared: boolean): Promise<string> {
  const { full, base } = sidecarNames(original);
  for (const path of baseIsShared ? full : [...full, ...base]) if (await exists(path)) return path;
  return baseIsShared ? full[0] : base[0];
}

function sidecarNames(original: string) {
  const stem = join(dirname(original), basename(original, extname(original)));
  return { full: [`${original}.xmp`, `${original}.XMP`], base: [`${stem}.xmp`, `${stem}.XMP`] } as const;
}

/** The sidecars that lie beside a picture by now and are its alone. */
export async function sidecarsThere(original: string, baseIsShared: boolean): Promise<readonly string[]> {
  const { full, base } = sidecarNames(original);
  const there: string[] = [];
  for (const path of baseIsShared ? full : [...full, ...base]) if (await exists(path)) there.push(path);
  return there;
}

/** Whether another picture of the folder bears the base name of this one. */
export function sharedBases(files: readonly string[]): (file: string) => boolean {
  const count = new Map<string, number>();
  for (const file of files) count.set(baseOf(file), (count.get(baseOf(file)) ?? 0) + 1);
  return (file) => (count.get(baseOf(file)) ?? 0) > 1;
}
