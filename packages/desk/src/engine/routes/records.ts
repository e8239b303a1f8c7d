/** Records for the pages, and what leaves of them for anybody. */
import { exportRecords, recordRows } from '@tepal/notebook';
import type { FastifyInstance } from 'fastify';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import { storeOf } from './requests.ts';

export function recordRoutes(server: FastifyInstance, engine: Engine): void {
  server.get('/api/:store/records', async (request) => {
    const { notebook, library } = engine.stores[storeOf(request.params)];
    return { records: recordRows(await notebook(), (hash) => library.frameOfHash(hash)) };
  });

  server.get('/api/:store/records/archive.zip', async (request, reply) => {
    const { bytes } = exportRecords(await exported(request.params), { wish: 'coarse', nowMs: Date.now() });
    return reply
      .type('application/zip')
      .header('content-disposition', 'attachment; filename="records.zip"')
      .send(Buffer.from(bytes));
  });

  server.get('/api/:store/records/table.csv', async (request, reply) => {
    const notebook = await exported(request.params);
    const { bytes } = exportRecords(notebook, {
      wish: 'coarse',
      as: 'table',
      language: 'en',
      nowMs: Date.now(),
    });
    return reply
      .type('text/csv; charset=utf-8')
      .header('content-disposition', 'attachment; filename="records.csv"')
      .send(Buffer.from(bytes));
  });

  function exported(params: unknown) {
    const store = engine.stores[storeOf(params)];
    if (store.name === 'invented') {
      throw new EngineRefusal(403, 'The invented outing is invented: its records are never exported.');
    }
    return store.notebook();
  }
}
