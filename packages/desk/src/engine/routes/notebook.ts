/** Days, forecasts and the notebook. */
import { readForecast } from '@tepal/formats';
import { find, saveNotebook } from '@tepal/notebook';
import type { FastifyInstance } from 'fastify';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { writeWhole } from '../../files/write.ts';
import { daysAnswer } from '../answers.ts';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import { bytesOf, idOf, storeOf } from './requests.ts';
import type { Store } from '../stores.ts';

export function notebookRoutes(server: FastifyInstance, engine: Engine): void {
  const at = (params: unknown): Store => engine.stores[storeOf(params)];
  const own = (params: unknown, what: string): Store => {
    const store = at(params);
    if (store.name === 'invented') throw new EngineRefusal(403, `The invented outing ${what}.`);
    return store;
  };
  server.get('/api/:store/days', (request) => daysAnswer(at(request.params), Date.now()));

  server.put('/api/:store/sites/:id/forecast', async (request) => {
    const store = own(request.params, 'has its own weather; a forecast cannot be given to it');
    const siteId = idOf(request.params);
    if (find(await store.notebook(), 'site', siteId) === null) {
      throw new EngineRefusal(
        404,
        'That site is not in the notebook of this computer; exchange the notebook first.',
      );
    }
    const bytes = bytesOf(request.body);
    const read = readForecast(bytes);
    if (!read.ok) throw new EngineRefusal(422, read.fault.message);
    const path = store.forecastPath(siteId);
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, bytes, { replace: true });
    return daysAnswer(store, Date.now());
  });

  server.get('/api/:store/notebook', async (request, reply) => {
    const notebook = await at(request.params).notebook();
    return reply.type('application/octet-stream').send(Buffer.from(saveNotebook(notebook)));
  });

  server.post('/api/:store/notebook', async (request, reply) => {
    const store = own(request.params, 'never syncs; what you write in it stays on its page');
    const merged = await store.mergeNotebook(bytesOf(request.body));
    return reply.type('application/octet-stream').send(Buffer.from(merged));
  });
}
