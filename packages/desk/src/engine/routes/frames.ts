/** Frames, series, crops and the long work on them. */
import type { FastifyInstance } from 'fastify';
import { isAbsolute } from 'node:path';
import { stat } from 'node:fs/promises';
import { frameAnswer, framesAnswer } from '../frames-answer.ts';
import { questionsAnswer, sharpAnswer } from '../looking.ts';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import { bodyOf, decisionOf, idOf, pixelsField, shareField, storeOf, textField } from './requests.ts';
import type { Store } from '../stores.ts';

export function frameRoutes(server: FastifyInstance, engine: Engine): void {
  const { viewer } = engine;
  const at = (params: unknown): Store => engine.stores[storeOf(params)];

  server.post('/api/:store/measure', async (request) => {
    const store = at(request.params);
    const path = textField(bodyOf(request.body), 'path', 4096);
    if (store.inventedFrames !== null && path !== store.inventedFrames) {
      throw new EngineRefusal(
        403,
        'The invented outing holds its own frames only; choose your folder on the first screen.',
      );
    }
    if (!isAbsolute(path))
      throw new EngineRefusal(400, `A whole path is needed, but ${path} is a part of one.`);
    const found = await stat(path).catch(() => null);
    if (!found?.isDirectory()) throw new EngineRefusal(404, `There is no folder ${path}.`);
    return engine.startMeasuring(store, path);
  });

  server.get('/api/:store/frames', async (request) => {
    const store = at(request.params);
    // The invented outing is measured when it is first looked at.
    if (
      store.inventedFrames !== null &&
      store.library.frameCount(store.inventedFrames) === 0 &&
      engine.measuring(store.name) === null
    ) {
      engine.startMeasuring(store, store.inventedFrames);
    }
    return framesAnswer(store);
  });

  server.put('/api/:store/folder', async (request) => {
    const store = at(request.params);
    const path = textField(bodyOf(request.body), 'path', 4096);
    if (!store.library.folders().some((folder) => folder.path === path)) {
      throw new EngineRefusal(404, `The folder ${path} was not measured yet; choose it on the first screen.`);
    }
    store.open(path);
    return framesAnswer(store);
  });

  server.put('/api/:store/frames/:id/decision', async (request) => {
    const store = at(request.params);
    const id = idOf(request.params);
    const decision = decisionOf(bodyOf(request.body));
    if (frameAnswer(store, id) === null) throw new EngineRefusal(404, 'That frame is not in the library.');
    store.library.decide(id, decision);
    return frameAnswer(store, id);
  });

  server.get('/api/:store/frames/:id/questions', (request) =>
    questionsAnswer(at(request.params), viewer, idOf(request.params)),
  );

  server.get('/api/:store/frames/:id/sharp', async (request) =>
    sharpAnswer(at(request.params), idOf(request.params)),
  );

  server.get('/api/:store/frames/:id/crop.jpg', async (request, reply) => {
    const frame = frameToView(at(request.params), idOf(request.params));
    const query = bodyOf(request.query);
    const wanted = {
      x: shareField(query, 'x'),
      y: shareField(query, 'y'),
      width: pixelsField(query, 'width', 4096),
      height: pixelsField(query, 'height', 4096),
    };
    return reply
      .type('image/jpeg')
      .header('cache-control', 'private, max-age=3600')
      .send(await viewer.crop(frame, wanted));
  });

  server.get('/api/:store/frames/:id/preview.jpg', async (request, reply) => {
    const frame = frameToView(at(request.params), idOf(request.params));
    const longEdge = pixelsField(bodyOf(request.query), 'longEdge', 8192);
    return reply
      .type('image/jpeg')
      .header('cache-control', 'private, max-age=3600')
      .send(await viewer.preview(frame, longEdge));
  });
}

function frameToView(store: Store, id: string) {
  const found = store.library.frame(id);
  if (found === null) throw new EngineRefusal(404, 'That frame is not in the library.');
  return found;
}
