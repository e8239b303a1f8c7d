/** A blend from files to files: the picture with the reference's profile, its maps, and how each frame took part. */
import type { BlendDocument } from '@tepal/formats';
import type { BlendChoice, KnownPlace } from '@tepal/imaging';
import { unlink, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { MADE_BY_TEPAL } from '../decode/describe.ts';
import { readTags, writeTags } from '../deliver/exif-tool.ts';
import { settingTags } from '../deliver/caption.ts';
import { srgbProfile } from '../deliver/deliver.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { kindOfFile, type PhotographKind } from '../files/kinds.ts';
import { checkOutput, settle, temporaryName } from '../files/write.ts';
import type { Pool } from '../measure/pool.ts';

export interface BlendWish {
  /** As given: the names that the document repeats. */
  readonly files: readonly string[];
  readonly reference: string | null;
  readonly output: string;
  readonly depth: string | null;
  readonly source: string | null;
  readonly replace: boolean;
  /** Places that come from one frame each [px of the reference]; none unless given. */
  readonly choices?: readonly FileChoice[];
  /** Where an earlier blend of these frames, upon the same reference, found them. */
  readonly places?: BlendPlaces;
  readonly pool: Pool;
  tell(progress: { done?: number; total?: number; saying?: string }): void;
}

/** "This place from that frame". */
export interface FileChoice {
  readonly file: string;
  readonly x: number;
  readonly y: number;
  readonly radiusPx: number;
}

/** The place of each frame that took part, by its name as given. */
export type BlendPlaces = ReadonlyMap<string, KnownPlace>;

/** A blend, and where its frames lie: for candidate crops, and to blend again without registering. */
export interface PlacedBlend {
  readonly document: BlendDocument;
  readonly places: BlendPlaces;
  readonly widthPx: number;
  readonly heightPx: number;
}

const MOST_FRAMES = 256;

/** @throws DeskFault with a sentence when nothing can be blended, or an output is in the way */
export async function blendFiles(wish: BlendWish): Promise<BlendDocument> {
  return (await blendWithPlaces(wish)).document;
}

/** @throws DeskFault as `blendFiles` */
export async function blendWithPlaces(wish: BlendWish): Promise<PlacedBlend> {
  const outputs = [wish.output, wish.depth, wish.source].filter((path) => path !== null);
  if (new Set(outputs.map((path) => resolve(path))).size < outputs.length) {
    throw new DeskFault('Picture, depth map and source map need different names.');
  }
  for (const path of outputs) {
    if (!/\.tiff?$/i.test(path))
      throw new DeskFault(`The output is a 16-bit TIFF: ${path} needs the ending .tif.`);
    if (wish.files.some((file) => resolve(file) === resolve(path))) {
      throw new DeskFault(`${path} is one of the frames; originals are never written to.`);
    }
    await checkOutput(path, wish);
  }
  if (wish.files.length > MOST_FRAMES) {
    throw new DeskFault(
      `At most ${MOST_FRAMES} frames are blended at once, but ${wish.files.length} were given.`,
    );
  }
  const { readable, unread } = await sortOut(wish.files);
  const reference = chooseReference(readable, wish);
  wish.tell({ done: 0, total: readable.length + 1, saying: 'Opening the frames.' });

  const temporary = temporaryName(wish.output);
  const profile = `${temporary}.icc`;
  const maps = {
    depth: wish.depth === null ? null : temporaryName(wish.depth),
    source: wish.source === null ? null : temporaryName(wish.source),
  };
  try {
    const result = await wish.pool.run(
      'blend',
      {
        frames: readable.map(({ file, kind }) => {
          const place = file === reference ? undefined : wish.places?.get(file);
          return { path: file, kind, ...(place === undefined ? {} : { place }) };
        }),
        choices: chosen(wish.choices ?? [], readable),
        reference: readable.findIndex(({ file }) => file === reference),
        picture: temporary,
        profile,
        ...maps,
      },
      (progress) => wish.tell(progress),
    );
    if (!result.hasProfile) await writeFile(profile, await srgbProfile());
    const tags = await readTags(reference).catch(() => ({}));
    await writeTags(temporary, { ...settingTags(tags), 'IFD0:Software': MADE_BY_TEPAL }, profile);
    await settle(temporary, wish.output, wish);
    if (wish.depth !== null && maps.depth !== null) await settle(maps.depth, wish.depth, wish);
    if (wish.source !== null && maps.source !== null) await settle(maps.source, wish.source, wish);
    const nothing = { used: false, shiftPx: null, rotationDeg: null, scale: null, rmsPx: null };
    const nameOf = (index: number) => readable[index]!.file;
    const document: BlendDocument = {
      schema: 'tepal/blend/1',
      output: wish.output,
      reference,
      frames: wish.files.map((file) => {
        const index = readable.findIndex((one) => one.file === file);
        const failed = unread.get(file) ?? result.unread.find((one) => one.index === index)?.reason;
        if (failed !== undefined) return { file, ...nothing, why: failed };
        const found = result.frames.find((frame) => frame.index === index);
        if (found === undefined) return { file, ...nothing, why: 'it took no part' };
        const { used, why, shiftPx, rotationDeg, scale, rmsPx } = found;
        return { file, used, why, shiftPx, rotationDeg, scale, rmsPx };
      }),
      gaps: result.gaps,
      fallback:
        result.fallback === null
          ? null
          : {
              use: result.fallback.use,
              files: result.fallback.indices.map(nameOf),
              why: result.fallback.why,
            },
    };
    const places = new Map<string, KnownPlace>();
    for (const { index, place } of result.frames) if (place !== null) places.set(nameOf(index), place);
    return { document, places, widthPx: result.widthPx, heightPx: result.heightPx };
  } catch (error) {
    throw error instanceof DeskFault ? error : new DeskFault(reasonOf(error), 3);
  } finally {
    const left = [temporary, profile, maps.depth, maps.source].filter((path) => path !== null);
    await Promise.all(left.map((path) => unlink(path).catch(() => undefined)));
  }
}

interface Readable {
  readonly file: string;
  readonly kind: PhotographKind;
}

async function sortOut(files: readonly string[]) {
  const readable: Readable[] = [];
  const unread = new Map<string, string>();
  for (const file of files) {
    try {
      const kind = await kindOfFile(file);
      if (kind.is === 'photograph') readable.push({ file, kind: kind.kind });
      else unread.set(file, kind.is === 'wrong' ? kind.reason : 'It is no photograph.');
    } catch (error) {
      unread.set(file, `It cannot be read: ${reasonOf(error)}.`);
    }
  }
  const first = readable[0];
  if (first === undefined) {
    const [file, reason] = [...unread][0] ?? ['', 'No frame was given.'];
    throw new DeskFault(`None of the frames can be read. ${file}: ${reason}`, 3);
  }
  return { readable, unread };
}

/** The choices by the frames' numbers. @throws DeskFault when one names a frame that does not take part */
function chosen(choices: readonly FileChoice[], readable: readonly Readable[]): BlendChoice[] {
  return choices.map(({ file, x, y, radiusPx }) => {
    const index = readable.findIndex((one) => resolve(one.file) === resolve(file));
    if (index < 0) throw new DeskFault(`A place is to come from ${file}, which is not among the frames.`);
    return { x, y, radiusPx, index };
  });
}

/** The one asked for, else the middle of those that can be read. */
function chooseReference(readable: readonly Readable[], { reference, files }: BlendWish): string {
  if (reference !== null) {
    const found = readable.find(({ file }) => resolve(file) === resolve(reference));
    if (found !== undefined) return found.file;
    const given = files.some((file) => resolve(file) === resolve(reference));
    throw new DeskFault(
      given
        ? `The reference ${reference} cannot be read.`
        : `The reference ${reference} is not one of the frames.`,
      given ? 3 : 2,
    );
  }
  return readable[Math.floor(readable.length / 2)]!.file;
}
