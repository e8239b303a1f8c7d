/** Finishing: steps kept beside, the full picture, places of a blend chosen, rules, profiles and entries. */
import { readFinishSteps, type EnteredAnswer, type EntryDraft, type PictureSource } from '@tepal/formats';
import type { FastifyInstance } from 'fastify';
import { createReadStream } from 'node:fs';
import { exists } from '../../files/write.ts';
import { openPool } from '../../measure/pool.ts';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import {
  blendFiles,
  blendState,
  candidatesWork,
  choosePlacesWork,
  type FoundCandidates,
} from '../pictures/blend-work.ts';
import { entryWork } from '../pictures/entry-work.ts';
import { finishWork, proxyOf } from '../pictures/finish-work.ts';
import {
  allEntries,
  allRules,
  keepEntry,
  keepProfile,
  keepRules,
  profileNames,
  profilePath,
} from '../pictures/kept-files.ts';
import { besideFile, readKeptSteps, stepsList, writeKeptSteps } from '../pictures/picture-files.ts';
import { sourceOf } from '../pictures/deliver-work.ts';
import { bodyOf, bytesOf, choicesOf, idOf, pixelsField, placeOf, storeOf } from './requests.ts';

export function finishingRoutes(server: FastifyInstance, engine: Engine): void {
  const { jobs, viewer } = engine;
  const at = (params: unknown) => engine.stores[storeOf(params)];
  const small = openPool({ threads: 1 });
  server.addHook('onClose', () => small.close());
  const candidates = new Map<string, FoundCandidates>();
  const entered = new Map<string, EnteredAnswer>();

  for (const [folder, source] of [
    ['pictures', (pictureId: string): PictureSource => ({ pictureId })],
    ['frames', (frameId: string): PictureSource => ({ frameId })],
  ] as const) {
    const path = `/api/:store/${folder}/:id`;
    server.get(`${path}/steps`, ({ params }) => readKeptSteps(at(params), source(idOf(params))));
    server.put(`${path}/steps`, ({ params, body }) => {
      const { steps, before, after } = bodyOf(body);
      const kept = { steps: stepsOf(steps), before: stepsList(before), after: stepsList(after) };
      return writeKeptSteps(at(params), source(idOf(params)), kept);
    });
    server.get(`${path}/proxy`, async ({ params }, reply) => {
      const bytes = await proxyOf(at(params), source(idOf(params)), small);
      return reply.type('application/octet-stream').send(Buffer.from(bytes.buffer));
    });
    server.get(`${path}/finished.jpg`, async ({ params, query }, reply) => {
      const of = source(idOf(params));
      const file = besideFile(at(params), of, 'finished.tif');
      if (!(await exists(file))) throw new EngineRefusal(404, 'The full picture was not made yet.');
      const asked = bodyOf(query);
      const seen = { id: `${file} ${String(asked['made'])}`, path: file, kind: 'tiff' } as const;
      const bytes = await viewer.preview(seen, pixelsField(asked, 'longEdge', 16_384));
      return reply.type('image/jpeg').header('cache-control', 'private, no-cache').send(bytes);
    });
  }

  server.post('/api/:store/finish', ({ params, body }) => {
    const { pictureId, frameId, steps } = bodyOf(body) as Record<string, string | undefined>;
    const work = finishWork(at(params), sourceOf({ pictureId, frameId }), stepsOf(steps));
    return jobs.start('finish', 'Making the full picture.', work);
  });

  server.get('/api/:store/pictures/:id/blend', ({ params }) => blendState(at(params), idOf(params)));
  for (const map of ['depth', 'source'] as const) {
    server.get(`/api/:store/pictures/:id/${map}.tif`, async ({ params }, reply) => {
      const file = blendFiles(at(params), idOf(params).replace(/[^A-Za-z0-9-]/g, ''))[map];
      if (!(await exists(file)))
        throw new EngineRefusal(404, 'That map is not there; blend the series again.');
      return reply
        .type('image/tiff')
        .header('content-disposition', `attachment; filename="${map}.tif"`)
        .send(createReadStream(file));
    });
  }
  server.post('/api/:store/pictures/:id/candidates', ({ params, body }) => {
    const place = placeOf(bodyOf(body));
    const found: { is: FoundCandidates | null } = { is: null };
    const work = candidatesWork(at(params), idOf(params), place, (is) => (found.is = is));
    const job = jobs.start('candidates', 'Looking at that place.', async (signal, tell) => {
      const ended = await work(signal, tell);
      if (found.is !== null) candidates.set(job.id, found.is);
      for (const old of [...candidates.keys()].slice(0, -8)) candidates.delete(old);
      return ended;
    });
    return job;
  });
  const foundBy = (params: unknown) => {
    const found = candidates.get(idOf(params));
    if (found === undefined) throw new EngineRefusal(404, 'Those crops are gone; touch the place again.');
    return found;
  };
  server.get('/api/:store/candidates/:id', ({ params }, reply) => reply.send(foundBy(params).answer));
  server.get('/api/:store/candidates/:id/:number.jpg', ({ params }, reply) => {
    const crop = foundBy(params).crops[Number((params as { number?: string }).number)];
    if (crop === undefined) throw new EngineRefusal(404, 'There is no such crop.');
    return reply.type('image/jpeg').send(crop);
  });
  server.put('/api/:store/pictures/:id/choices', ({ params, body }) => {
    const work = choosePlacesWork(at(params), idOf(params), choicesOf(bodyOf(body)));
    return jobs.start('blend', 'Blending with the chosen place.', work);
  });

  server.get('/api/:store/rules', ({ params }) => allRules(at(params)));
  server.put('/api/:store/rules/:id', async ({ params, body }) => {
    await keepRules(at(params), idOf(params), bodyOf(body)['rules']);
    return allRules(at(params));
  });
  server.get('/api/:store/profiles', ({ params }) => profileNames(at(params)));
  server.get('/api/:store/profiles/:id', async ({ params }, reply) => {
    const file = profilePath(at(params), idOf(params));
    if (!(await exists(file))) throw new EngineRefusal(404, 'That profile is not kept here.');
    return reply.type('application/octet-stream').send(createReadStream(file));
  });
  server.put('/api/:store/profiles/:id', async ({ params, body }) => {
    await keepProfile(at(params), idOf(params), bytesOf(body));
    return profileNames(at(params));
  });

  server.get('/api/:store/entries', ({ params }) => allEntries(at(params)));
  server.put('/api/:store/entries/:id', async ({ params, body }) => {
    const draft = bodyOf(body) as unknown as EntryDraft;
    if (typeof draft.name !== 'string' || !Array.isArray(draft.pictures))
      throw new EngineRefusal(400, 'expected an entry with a name and its pictures.');
    await keepEntry(at(params), { ...draft, id: idOf(params) });
    return allEntries(at(params));
  });
  server.post('/api/:store/entries/:id', ({ params }) => {
    const made: { is: EnteredAnswer | null } = { is: null };
    const work = entryWork(at(params), idOf(params), (is) => (made.is = is));
    const job = jobs.start('entry', 'Making the entry.', async (signal, tell) => {
      const ended = await work(signal, tell);
      if (made.is !== null) entered.set(job.id, made.is);
      return ended;
    });
    return job;
  });
  server.get('/api/:store/entered/:id', ({ params }, reply) => {
    const found = entered.get(idOf(params));
    if (found === undefined) throw new EngineRefusal(404, 'That entry was made long ago, or not yet.');
    return reply.send(found);
  });
}

function stepsOf(json: unknown) {
  const read = readFinishSteps(json);
  if (!read.ok) throw new EngineRefusal(400, read.fault.message);
  return read.value;
}
