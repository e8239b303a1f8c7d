/** Pictures: blended, delivered, shown and downloaded. */
import type { Picture, PictureSource } from '@tepal/formats';
import type { FastifyInstance } from 'fastify';
import { randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { basename, join } from 'node:path';
import { exists } from '../../files/write.ts';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import { blendWork } from '../pictures/blend-work.ts';
import { contactSheetWork, deliveredPath, deliverWork } from '../pictures/deliver-work.ts';
import { finishingRoutes } from './finishing.ts';
import { bodyOf, deliverRequestOf, idOf, idsField, pixelsField, storeOf, textField } from './requests.ts';

export function pictureRoutes(server: FastifyInstance, engine: Engine): void {
  finishingRoutes(server, engine);
  const { jobs, viewer } = engine;
  const at = (params: unknown) => engine.stores[storeOf(params)];
  /** Files that a delivery job made, by the job. */
  const delivered = new Map<string, string>();

  server.post('/api/:store/blend', async (request) => {
    const body = bodyOf(request.body);
    const work = blendWork(at(request.params), {
      frameIds: idsField(body, 'frameIds'),
      ...(body['referenceId'] === undefined ? {} : { referenceId: textField(body, 'referenceId', 200) }),
      ...(body['title'] === undefined ? {} : { title: textField(body, 'title', 200) }),
    });
    return jobs.start('blend', 'Blending the series.', work);
  });

  server.get('/api/:store/pictures', async (request): Promise<readonly Picture[]> =>
    at(request.params)
      .library.pictures()
      .map(({ path: _path, ...picture }) => picture),
  );

  server.get('/api/:store/pictures/:id/preview.jpg', async (request, reply) => {
    const id = idOf(request.params);
    const picture = at(request.params)
      .library.pictures()
      .find((one) => one.id === id);
    if (picture === undefined) throw new EngineRefusal(404, 'That picture is not in the library.');
    const longEdge = pixelsField(bodyOf(request.query), 'longEdge', 8192);
    // A blend that was made again is another picture under the same name.
    const seen = { id: `${id} ${picture.madeAt}`, path: picture.path, kind: 'tiff' } as const;
    const bytes = await viewer.preview(seen, longEdge);
    return reply.type('image/jpeg').header('cache-control', 'private, no-cache').send(bytes);
  });

  server.post('/api/:store/deliver', async (request) => {
    const store = at(request.params);
    const wanted = deliverRequestOf(bodyOf(request.body));
    const output = await deliveredPath(store, randomUUID(), wanted);
    const job = jobs.start('deliver', 'Making the file.', deliverWork(store, wanted, output));
    delivered.set(job.id, output);
    return job;
  });

  server.post('/api/:store/contact-sheet', async (request) => {
    const store = at(request.params);
    const pictures = sourcesField(bodyOf(request.body)['pictures']);
    const output = join(store.folder, 'delivered', randomUUID(), 'contact sheet.jpg');
    const work = contactSheetWork(store, pictures, output);
    const job = jobs.start('contactSheet', 'Making the contact sheet.', work);
    delivered.set(job.id, output);
    return job;
  });

  server.get('/api/:store/delivered/:id', async (request, reply) => {
    const path = delivered.get(idOf(request.params));
    if (path === undefined || !(await exists(path))) {
      throw new EngineRefusal(404, 'That file is not there; deliver the picture again.');
    }
    const end = path.endsWith('.tif') ? 'tif' : 'jpg';
    return reply
      .type(end === 'tif' ? 'image/tiff' : 'image/jpeg')
      .header('content-disposition', asAttachment(basename(path)))
      .send(createReadStream(path));
  });
}

function sourcesField(value: unknown): readonly PictureSource[] {
  const sources = Array.isArray(value)
    ? value.flatMap((one: unknown): PictureSource[] => {
        const { pictureId, frameId } = bodyOf(one);
        if (typeof pictureId === 'string') return [{ pictureId }];
        return typeof frameId === 'string' ? [{ frameId }] : [];
      })
    : [];
  if (sources.length === 0 || sources.length > 500)
    throw new EngineRefusal(400, 'expected 1 to 500 pictures for pictures.');
  return sources;
}

/** The header that names a download, for letters of every alphabet. @source RFC 6266 and RFC 8187 */
function asAttachment(name: string): string {
  const plain = name.replace(/[^\x20-\x7e]|["\\%]/g, '_');
  const marked = encodeURIComponent(name).replace(
    /['()*]/g,
    (c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return `attachment; filename="${plain}"; filename*=UTF-8''${marked}`;
}
