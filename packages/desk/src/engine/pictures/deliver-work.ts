/** Deliveries from the pages: one file, a contact sheet. Steps are done on the way, from the original. */
import type { DeliverRequest, PictureSource } from '@tepal/formats';
import { deliveryName, stackedFrom } from '@tepal/advice';
import { list } from '@tepal/notebook';
import { mkdir } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { contactSheet } from '../../deliver/contact-sheet.ts';
import { deliverPicture } from '../../deliver/deliver.ts';
import { DeskFault } from '../../files/faults.ts';
import type { JobWork } from '../jobs.ts';
import type { Store } from '../stores.ts';
import { withPool } from '../work.ts';
import { openedSource, readKeptSteps } from './picture-files.ts';
import { keptRules, profilePath } from './kept-files.ts';

/** The source of a request. @throws DeskFault where it names none */
export function sourceOf(request: {
  readonly pictureId?: string | undefined;
  readonly frameId?: string | undefined;
}): PictureSource {
  if (request.pictureId !== undefined) return { pictureId: request.pictureId };
  if (request.frameId !== undefined) return { frameId: request.frameId };
  throw new DeskFault('Say which picture or which frame is to be delivered.');
}

/** Where a delivery's file lies: in a folder of its own, named by its title or its original. */
export async function deliveredPath(
  store: Store,
  deliveryId: string,
  request: DeliverRequest,
): Promise<string> {
  const { path, title, picture } = openedSource(store, sourceOf(request));
  const name = deliveryName({
    title: request.title ?? (picture === null ? null : title),
    original: basename(picture === null ? path : 'picture'),
  });
  const rules = request.rulesId === undefined ? null : await keptRules(store, request.rulesId);
  const end = request.as === 'archive' || rules?.format === 'tiff' ? 'tif' : 'jpg';
  return join(store.folder, 'delivered', deliveryId, `${name}.${end}`);
}

export function deliverWork(store: Store, request: DeliverRequest, output: string): JobWork {
  return async (signal, tell) => {
    const of = sourceOf(request);
    const { path, picture } = openedSource(store, of);
    const { steps } = await readKeptSteps(store, of);
    const changes = request.withSteps !== false && Object.keys(steps).length > 1;
    tell({ done: 0, total: 1, saying: 'Making the file.' });
    await mkdir(dirname(output), { recursive: true });
    const rules = request.rulesId === undefined ? null : await keptRules(store, request.rulesId);
    const document = await deliverPicture({
      ...{ picture: path, output, replace: false, ppi: 300, signal, rules },
      as: rules?.format === 'tiff' && request.as === 'screen' ? 'print' : request.as,
      steps: changes ? steps : null,
      tell: ({ saying }) => tell({ saying }),
      boxPx: request.boxPx ?? null,
      sizeMm: request.sizeMm ?? null,
      limitKb: request.limitKb ?? null,
      ...(request.viewingDistanceMm === undefined ? {} : { viewingDistanceMm: request.viewingDistanceMm }),
      ...(request.paper === undefined ? {} : { paper: request.paper }),
      printerProfile:
        request.printerProfile === undefined ? null : profilePath(store, request.printerProfile),
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

/** Width of a contact sheet's page, and its columns: A4 lying at 300 px per inch holds four in a row. */
const SHEET = { widthPx: 3508, columns: 4 } as const;

export function contactSheetWork(store: Store, pictures: readonly PictureSource[], output: string): JobWork {
  return async (signal, tell) => {
    const paths = pictures.map((of) => openedSource(store, of).path);
    await mkdir(dirname(output), { recursive: true });
    const sheet = await withPool(signal, 1, (pool) =>
      contactSheet({ pictures: paths, output, ...SHEET, replace: false, pool, tell }),
    );
    const failed = sheet.failed.map(({ path, reason }) => ({ file: basename(path), reason }));
    return { saying: `The contact sheet of ${sheet.pictures} is ready.`, failed };
  };
}
