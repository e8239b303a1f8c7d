/** Blending at the desk: a series into one picture, a place of it looked at in every frame, and blended again. */
import type { BlendDocument, BlendState, CandidatesAnswer, Picture, PlaceChoice } from '@tepal/formats';
import { randomUUID } from 'node:crypto';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import sharp from 'sharp';
import { blendWithPlaces, type BlendPlaces } from '../../blend/blend.ts';
import type { Candidate } from '../../blend/candidates.ts';
import { DeskFault } from '../../files/faults.ts';
import { readJson } from '../../files/read-json.ts';
import { exists, writeWhole } from '../../files/write.ts';
import { photographKind } from '../../finish/finish.ts';
import type { JobWork } from '../jobs.ts';
import type { Store } from '../stores.ts';
import { withPool } from '../work.ts';
import { framePath } from './picture-files.ts';

export interface BlendAsked {
  readonly frameIds: readonly string[];
  readonly referenceId?: string | undefined;
  readonly title?: string | undefined;
}

/** Blends frames into a new picture. */
export function blendWork(store: Store, asked: BlendAsked): JobWork {
  return async (signal, tell) => {
    const made = await blendOnce(store, signal, tell, { ...asked, id: randomUUID(), choices: [] });
    return { ...made, saying: 'The series is one picture.' };
  };
}

/** Blends a picture again, with places that come from one frame each; its frames are not registered again. */
export function choosePlacesWork(store: Store, pictureId: string, choices: readonly PlaceChoice[]): JobWork {
  return async (signal, tell) => {
    const picture = pictureOf(store, pictureId);
    const state = await blendState(store, pictureId);
    const { frameIds, title } = picture;
    const made = await blendOnce(store, signal, tell, {
      ...{ id: pictureId, frameIds, title, choices, referenceId: state.referenceId },
    });
    return { ...made, saying: 'The place is blended again.' };
  };
}

type Tell = Parameters<JobWork>[1];

async function blendOnce(
  store: Store,
  signal: AbortSignal,
  tell: Tell,
  asked: BlendAsked & { readonly id: string; readonly choices: readonly PlaceChoice[] },
) {
  const { id, frameIds, choices } = asked;
  const files = frameIds.map((frameId) => framePath(store, frameId));
  const folder = join(store.folder, 'pictures');
  await mkdir(folder, { recursive: true });
  const at = blendFiles(store, id);
  const places = await keptPlaces(at.places);
  const { document, places: found } = await withPool(signal, 1, (pool) =>
    blendWithPlaces({
      ...{ files, output: at.picture, depth: at.depth, source: at.source, replace: true, pool, tell },
      reference: asked.referenceId === undefined ? null : framePath(store, asked.referenceId),
      choices: choices.map(({ frameId, ...disc }) => ({ file: framePath(store, frameId), ...disc })),
      ...(places === null ? {} : { places }),
    }),
  );
  await writeFile(at.places, serialize(new Map([...found])));
  const idOf = (file: string) => frameIds[files.indexOf(file)] ?? '';
  const state: BlendState = {
    referenceId: idOf(document.reference),
    frames: document.frames.map(({ file, used, why }) => ({
      ...{ frameId: idOf(file), file: basename(file), used, why },
    })),
    fallback: fallbackOf(document, idOf),
    choices,
    maps: true,
  };
  await writeWhole(at.state, `${JSON.stringify(state, null, 2)}\n`, { replace: true });
  store.library.putPicture(await libraryPicture(asked, document, at.picture));
  return { pictureId: id, failed: leftOut(document) };
}

function fallbackOf({ fallback = null }: BlendDocument, idOf: (file: string) => string) {
  if (fallback === null) return null;
  return { use: fallback.use, why: fallback.why, frameIds: fallback.files.map(idOf) };
}

function leftOut(document: BlendDocument) {
  return document.frames.flatMap(({ file, used, why }) =>
    used ? [] : [{ file: basename(file), reason: why ?? 'left out' }],
  );
}

async function libraryPicture(
  asked: BlendAsked & { readonly id: string; readonly choices: readonly PlaceChoice[] },
  document: BlendDocument,
  path: string,
): Promise<Picture & { path: string }> {
  const { width, height } = await sharp(path, { limitInputPixels: false }).metadata();
  const used = document.frames.filter((frame) => frame.used).length;
  const out = document.frames.length - used;
  const chosen = asked.choices.length;
  return {
    ...{ id: asked.id, kind: 'blend', frameIds: asked.frameIds, widthPx: width, heightPx: height, path },
    title: asked.title ?? `Blend of ${used} frames`,
    madeAt: new Date().toISOString(),
    gaps: document.gaps,
    done: [
      `blended from ${used} frames`,
      ...(out > 0 ? [out === 1 ? 'one frame left out' : `${out} frames left out`] : []),
      ...(chosen > 0 ? [chosen === 1 ? 'one place chosen by hand' : `${chosen} places chosen by hand`] : []),
    ],
  };
}

/** The files of a blend: the picture, its maps, how it came about, and where its frames lie. */
export function blendFiles(store: Store, pictureId: string) {
  const file = (end: string) => join(store.folder, 'pictures', `${pictureId}.${end}`);
  return {
    ...{ picture: file('tif'), depth: file('depth.tif'), source: file('source.tif') },
    ...{ state: file('blend.json'), places: file('places') },
  };
}

function pictureOf(store: Store, id: string): Picture {
  const found = store.library.pictures().find((one) => one.id === id);
  if (found?.kind !== 'blend') throw new DeskFault('That picture is no blend of this library.');
  return found;
}

/** How a blend came about. @throws DeskFault where it is none, or it was made before that was kept */
export async function blendState(store: Store, pictureId: string): Promise<BlendState> {
  pictureOf(store, pictureId);
  const { state } = blendFiles(store, pictureId);
  if (!(await exists(state)))
    throw new DeskFault('This blend was made before places could be chosen; blend its series again.');
  return (await readJson(state)) as BlendState;
}

/** Where the frames lie; null where that is not kept, or a later Node wrote it: then they are registered again. */
async function keptPlaces(path: string): Promise<BlendPlaces | null> {
  try {
    const places: unknown = deserialize(await readFile(path));
    return places instanceof Map ? (places as BlendPlaces) : null;
  } catch {
    return null;
  }
}

/** What was found at a touched place: the answer, and the crops as JPEG. */
export interface FoundCandidates {
  readonly answer: CandidatesAnswer;
  readonly crops: readonly Buffer[];
}

/** Looks at a place in every frame of a blend. */
export function candidatesWork(
  store: Store,
  pictureId: string,
  spot: { readonly x: number; readonly y: number; readonly radiusPx: number },
  keep: (found: FoundCandidates) => void,
): JobWork {
  return async (signal, tell) => {
    const { frameIds, widthPx, heightPx } = pictureOf(store, pictureId);
    const places = await keptPlaces(blendFiles(store, pictureId).places);
    if (places === null) throw new DeskFault('Where its frames lie is not kept; blend the series again.');
    const files = frameIds.map((id) => framePath(store, id));
    const frames = await Promise.all(
      files
        .flatMap((path, index) => {
          const place = places.get(path);
          return place === undefined ? [] : [{ path, index, place }];
        })
        .map(async (frame) => ({ ...frame, kind: await photographKind(frame.path) })),
    );
    tell({ done: 0, total: frames.length, saying: 'Looking at that place in every frame.' });
    const found = await withPool(signal, 1, (pool) =>
      pool.run('candidates', { frames, widthPx, heightPx, ...spot }, (progress) => tell(progress)),
    );
    const nameOf = (index: number) => basename(files[index] ?? '');
    keep({
      crops: await Promise.all(found.candidates.map(cropJpeg)),
      answer: {
        radiusPx: spot.radiusPx,
        candidates: found.candidates.map(({ index, x, y, widthPx, heightPx }) => ({
          ...{ frameId: frameIds[index] ?? '', file: nameOf(index), x, y, widthPx, heightPx },
        })),
        unread: found.unread.map(({ index, reason }) => ({ file: nameOf(index), reason })),
      },
    });
    return { saying: 'The candidates are here.' };
  };
}

function cropJpeg({ rgb, widthPx, heightPx }: Candidate): Promise<Buffer> {
  return sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .jpeg({ quality: 92, chromaSubsampling: '4:4:4' })
    .toBuffer();
}
