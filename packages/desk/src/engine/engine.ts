/** The engine: stores, jobs and the viewer behind one HTTP surface on the loopback address. */
import type { EngineState, Job, StoreName } from '@tepal/formats';
import Fastify, { type FastifyInstance } from 'fastify';
import { saveNotebook } from '@tepal/notebook';
import { openMeeting } from '../meeting/meeting.ts';
import { openPool } from '../measure/pool.ts';
import { answerFaults } from './answer-faults.ts';
import { openViewer } from './crops.ts';
import { listFolder } from './folders.ts';
import { EngineRefusal, guardEngine } from './guard.ts';
import type { Engine } from './engine-parts.ts';
import { openJobs, type Jobs } from './jobs.ts';
import { pagesFolder, servePages } from './pages.ts';
import { idOf } from './routes/requests.ts';
import { choosingRoutes } from './routes/choosing.ts';
import { forecastRoutes } from './routes/forecast.ts';
import { frameRoutes } from './routes/frames.ts';
import { seriesRoutes } from './routes/series.ts';
import { keepingRoutes } from './routes/keeping.ts';
import { learnRoutes } from './routes/learn.ts';
import { meetingRoutes } from './routes/meeting.ts';
import { notebookRoutes } from './routes/notebook.ts';
import { pictureRoutes } from './routes/pictures.ts';
import { recordRoutes } from './routes/records.ts';
import { openStores } from './stores.ts';
import { measureWork } from './work.ts';

/** Largest body that is read [byte]: a notebook with years in it. */
const MOST_BODY = 64 * 1024 * 1024;

/** Builds the engine over the stores in a folder; it listens when told to. */
export async function buildEngine(options: { readonly folder: string; readonly version: string }) {
  const stores = await openStores(options.folder);
  const meeting = await openMeeting({
    folder: options.folder,
    notebook: async () => saveNotebook(await stores.mine.notebook()),
    merge: (bytes) => stores.mine.mergeNotebook(bytes),
  });
  const jobs = openJobs();
  const viewers = openPool({ threads: 2 });
  const measurings = new Map<StoreName, string>();
  const measuring = (store: StoreName) => {
    const id = measurings.get(store);
    const job = id === undefined ? null : jobs.job(id);
    return job?.state === 'running' ? job.id : null;
  };
  const engine: Engine = {
    stores,
    jobs,
    viewer: openViewer(viewers),
    measuring,
    startMeasuring(store, path) {
      const before = measuring(store.name);
      if (before !== null) jobs.cancel(before);
      const job = jobs.start('measure', 'Looking at every frame once.', measureWork(store, path));
      measurings.set(store.name, job.id);
      return job;
    },
  };

  const server = Fastify({
    bodyLimit: MOST_BODY,
    requestTimeout: 120_000,
    connectionTimeout: 0,
    forceCloseConnections: true,
  });
  server.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, done) =>
    done(null, body),
  );
  answerFaults(server, MOST_BODY);
  guardEngine(server);
  servePages(server, pagesFolder());

  server.get('/api/state', (): EngineState => ({
    version: options.version,
    stores: Object.values(stores).map((store) => ({
      store: store.name,
      folder: store.photographs(),
      frameCount: store.library.frameCount(store.photographs() ?? ''),
      jobId: measuring(store.name),
    })),
  }));
  server.get('/api/folders', (request) => listFolder((request.query as { path?: string }).path));
  jobRoutes(server, jobs);
  frameRoutes(server, engine);
  seriesRoutes(server, engine);
  choosingRoutes(server, engine);
  pictureRoutes(server, engine);
  notebookRoutes(server, engine);
  recordRoutes(server, engine);
  learnRoutes(server, engine);
  keepingRoutes(server, engine);
  meetingRoutes(server, meeting);
  forecastRoutes(server, engine, { ...options, environment: process.env });

  const close = async () => {
    await jobs.close();
    await viewers.close();
    await meeting.shut();
    await server.close();
    for (const store of Object.values(stores)) store.library.close();
  };
  return { server, engine, close };
}

function jobRoutes(server: FastifyInstance, jobs: Jobs): void {
  const known = (job: Job | null): Job => {
    if (job === null)
      throw new EngineRefusal(404, 'That work is not known; it ended long ago, or before a restart.');
    return job;
  };
  server.get('/api/jobs/:id', async (request) => known(jobs.job(idOf(request.params))));
  server.delete('/api/jobs/:id', async (request) => known(jobs.cancel(idOf(request.params))));
  server.get('/api/jobs/:id/events', async (request, reply) => {
    const id = idOf(request.params);
    const job = known(jobs.job(id));
    reply.hijack();
    const { raw } = reply;
    raw.writeHead(200, {
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'cross-origin-resource-policy': 'same-origin',
    });
    const send = (now: Job) => {
      raw.write(`data: ${JSON.stringify(now)}\n\n`);
      if (now.state !== 'running' && now.state !== 'waiting') raw.end();
    };
    const stop = jobs.watch(id, send);
    raw.on('close', stop);
    send(job);
  });
}
