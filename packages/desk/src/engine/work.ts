/** The long work of the engine: measuring, blending, delivering; each as a job with threads of its own. */
import type { BlendDocument, DeliverRequest, Picture } from '@tepal/formats';
import { deliveryName, stackedFrom } from '@tepal/advice';
import { list } from '@tepal/notebook';
import { randomUUID } from 'node:crypto';
import { mkdir } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import sharp from 'sharp';
import { blendFiles } from '../blend/blend.ts';
import { deliverPicture } from '../deliver/deliver.ts';
import { DeskFault } from '../files/faults.ts';
import { measureFolder } from '../measure/measure-folder.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import type { JobWork } from './jobs.ts';
import type { Store } from './stores.ts';

/** Runs with a pool that ends with the work, and at once when the job is cancelled. */
/** Runs with a pool that ends with the work, and at once when the job is cancelled. */
export async function withPool<T>(
  signal: AbortSignal,
  threads: number | null,
  use: (pool: Pool) => Promise<T>,
): Promise<T> {
  const pool = openPool(threads === null ? {} : { threads });
  const stop = () => void pool.close();
  signal.addEventListener('abort', stop, { once: true });
  try {
    return await use(pool);
  } finally {
    signal.removeEventListener('abort', stop);
    await pool.close();
  }
}

export function measureWork(store: Store, folder: string): JobWork {
  return (signal, tell) =>
    withPool(signal, null, async (pool) => {
      const { library } = store;
      store.open(folder);
      const document = await measureFolder({ folder, library, pool, signal, tell, point: null, map: false });
      const { frames, series, failed } = document;
      return {
        saying: `${frames.length} frames in ${series.length} series${failed.length > 0 ? `, ${failed.length} not read` : ''}.`,
        failed,
      };
    });
}

export function blendWork(
  store: Store,
  request: {
    readonly frameIds: readonly string[];
    readonly referenceId?: string | undefined;
    readonly title?: string | undefined;
  },
): JobWork {
  return (signal, tell) =>
    withPool(signal, 1, async (pool) => {
      const { library } = store;
      const paths = request.frameIds.map((id) => pathOf(store, id));
      const id = randomUUID();
      const folder = join(store.folder, 'pictures');
      await mkdir(folder, { recursive: true });
      const output = join(folder, `${id}.tif`);
      const document = await blendFiles({
        ...{ files: paths, output, depth: null, source: null, replace: false, pool, tell },
        reference: request.referenceId === undefined ? null : pathOf(store, request.referenceId),
      });
      library.putPicture(await pictureOf(id, request, document, output));
      return { saying: 'The series is one picture.', pictureId: id, failed: leftOut(document) };
    });
}

function leftOut(document: BlendDocument) {
  return document.frames.flatMap(({ file, used, why }) =>
    used ? [] : [{ file: basename(file), reason: why ?? 'left out' }],
  );
}

async function pictureOf(
  id: string,
  request: { readonly frameIds: readonly string[]; readonly title?: string | undefined },
  document: BlendDocument,
  path: string,
): Promise<Picture & { path: string }> {
  const { width, height } = await sharp(path, { limitInputPixels: false }).metadata();
  const used = document.frames.filter((frame) => frame.used).length;
  return {
    ...{ id, kind: 'blend', frameIds: request.frameIds, widthPx: width, heightPx: height, path },
    title: request.title ?? `Blend of ${used} frames`,
    madeAt: new Date().toISOString(),
    gaps: document.gaps,
    done: [
      `blended from ${used} frames`,
      ...(used < document.frames.length ? [`${document.frames.length - used} frames left out`] : []),
    ],
  };
}

/** Where a delivery's file lies: in a folder of its own, named by its title or its original. */
export function deliveredPath(store: Store, deliveryId: string, request: DeliverRequest): string {
  const picture = store.library.pictures().find(({ id }) => id === request.pictureId);
  const original = request.frameId === undefined ? null : store.library.frame(request.frameId);
  const name = deliveryName({
    title: request.title ?? picture?.title ?? null,
    original: basename(original?.path ?? 'picture'),
  });
  return join(store.folder, 'delivered', deliveryId, `${name}.${request.as === 'archive' ? 'tif' : 'jpg'}`);
}

export function deliverWork(store: Store, request: DeliverRequest, output: string): JobWork {
  return async (signal, tell) => {
    const { library } = store;
    const picture = library.pictures().find(({ id }) => id === request.pictureId);
    const source = picture?.path ?? (request.frameId === undefined ? null : pathOf(store, request.frameId));
    if (source === null) throw new DeskFault('Say which picture or which frame is to be delivered.');
    tell({ done: 0, total: 1, saying: 'Making the file.' });
    await mkdir(dirname(output), { recursive: true });
    const document = await deliverPicture({
      ...{ picture: source, output, as: request.as, replace: false, ppi: 300, signal },
      tell: ({ saying }) => tell({ saying }),
      boxPx: request.boxPx ?? null,
      sizeMm: request.sizeMm ?? null,
      limitKb: request.limitKb ?? null,
      caption: captionOf(request),
      deeds: picture?.kind === 'blend' ? [stackedFrom(picture.frameIds.length)] : null,
      place: 'none',
      sensitivity: await sensitivityOf(store, request.scientificName),
    });
    tell({ done: 1 });
    return { saying: 'The file is ready.', deliver: { ...document, output: basename(output) } };
  };
}

function captionOf({ title, caption, creator, rights, keywords, scientificName }: DeliverRequest) {
  return {
    ...(title === undefined ? {} : { title }),
    ...(caption === undefined ? {} : { caption }),
    ...(creator === undefined ? {} : { creator }),
    ...(rights === undefined ? {} : { rights }),
    ...(keywords === undefined ? {} : { keywords }),
    ...(scientificName === undefined ? {} : { scientificName }),
  };
}

async function sensitivityOf(store: Store, scientificName: string | undefined) {
  const wanted = scientificName?.trim().toLowerCase();
  const subjects = list(await store.notebook(), 'subject');
  return subjects.find((subject) => subject.scientificName.toLowerCase() === wanted)?.sensitivity ?? null;
}

function pathOf(store: Store, frameId: string): string {
  const found = store.library.frame(frameId);
  if (found === null) throw new DeskFault('That frame is not in the library; measure its folder again.');
  return found.path;
}
