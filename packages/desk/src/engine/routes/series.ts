/** Series: their point of focus, their name, parted and joined; and what was the same all through the outing. */
import { IDENTIFICATION_VIEWS } from '@tepal/advice';
import type { OutingSetUp } from '@tepal/formats';
import { SUPPORTS } from '@tepal/notebook';
import type { FastifyInstance } from 'fastify';
import type { Engine } from '../engine-parts.ts';
import { framesAnswer } from '../frames-answer.ts';
import { EngineRefusal } from '../guard.ts';
import { againWork } from '../measure-again.ts';
import type { Store } from '../stores.ts';
import { bodyOf, idOf, shareField, storeOf, textField } from './requests.ts';

export function seriesRoutes(server: FastifyInstance, { stores, jobs }: Engine): void {
  const at = (params: unknown): Store => stores[storeOf(params)];

  server.put('/api/:store/series/:id/point', async (request) => {
    const { store, id, members } = seriesAt(at(request.params), idOf(request.params));
    const body = bodyOf(request.body);
    const frameId = textField(body, 'frameId', 200);
    const point = { x: shareField(body, 'x'), y: shareField(body, 'y') };
    if (!members.includes(frameId)) throw new EngineRefusal(404, 'That frame is not in that series.');
    store.library.clearPoints(members);
    store.library.setPoint(frameId, point);
    const saying = 'Measuring at the marked point.';
    const regrouped = { taken: [id], into: [{ id, frameIds: members }] };
    return jobs.start('measure', saying, againWork(store, saying, regrouped));
  });

  server.post('/api/:store/series/:id/part', async (request) => {
    const { store, id, members } = seriesAt(at(request.params), idOf(request.params));
    const frameId = textField(bodyOf(request.body), 'frameId', 200);
    const cut = members.indexOf(frameId);
    if (cut < 0) throw new EngineRefusal(404, 'That frame is not in that series.');
    if (cut === 0) throw new EngineRefusal(400, 'That frame begins its series already.');
    const own = members.map((member, i) => [member, i < cut ? members[0]! : frameId] as const);
    store.library.setOwnSeries(store.photographs() ?? '', new Map(own));
    const saying = 'Measuring the two series.';
    const into = [
      { id, frameIds: members.slice(0, cut) },
      { id: fileOf(store, frameId), frameIds: members.slice(cut) },
    ];
    return jobs.start('measure', saying, againWork(store, saying, { taken: [id], into }));
  });

  server.post('/api/:store/series/:id/join', async (request) => {
    const { store, id, members } = seriesAt(at(request.params), idOf(request.params));
    const other = seriesAt(store, textField(bodyOf(request.body), 'otherId', 4096));
    if (other.id === id) throw new EngineRefusal(400, 'A series cannot be joined with itself.');
    const frameIds = [...members, ...other.members];
    store.library.setOwnSeries(
      store.photographs() ?? '',
      new Map(frameIds.map((member) => [member, frameIds[0]!])),
    );
    const saying = 'Measuring the joined series.';
    const regrouped = { taken: [id, other.id], into: [{ id, frameIds }] };
    return jobs.start('measure', saying, againWork(store, saying, regrouped));
  });

  server.put('/api/:store/series/:id/name', async (request) => {
    const { store, id } = seriesAt(at(request.params), idOf(request.params));
    const name = textField(bodyOf(request.body), 'name', 200).trim();
    store.library.setName(store.photographs() ?? '', id, name);
    return framesAnswer(store).series.find((series) => series.id === id);
  });

  server.put('/api/:store/series/:id/naming', async (request) => {
    const { store, id } = seriesAt(at(request.params), idOf(request.params));
    const body = bodyOf(request.body);
    const name = textField(body, 'name', 200).trim();
    if (name === '') throw new EngineRefusal(400, 'expected a name but received an empty one.');
    const shows = oneOfField(body, 'shows', IDENTIFICATION_VIEWS);
    const folder = store.photographs() ?? '';
    store.library.setName(folder, id, name);
    store.library.setShows(folder, id, shows);
    return framesAnswer(store).series.find((series) => series.id === id);
  });

  server.put('/api/:store/outing', async (request) => {
    const store = at(request.params);
    const body = bodyOf(request.body);
    const setUp: OutingSetUp = {
      siteId: idOrNone(body, 'siteId'),
      lensId: idOrNone(body, 'lensId'),
      support: oneOfField(body, 'support', SUPPORTS),
    };
    const folder = store.photographs();
    if (folder === null) throw new EngineRefusal(404, 'No folder of photographs has been chosen yet.');
    store.library.setOuting(folder, setUp);
    return framesAnswer(store);
  });
}

/** A series and its frames in the order taken. @throws EngineRefusal where there is no such series */
function seriesAt(store: Store, id: string) {
  const members = store.library
    .measuring(store.photographs() ?? '')
    .frames.filter(({ measured }) => measured.series === id)
    .map((frame) => frame.id);
  if (members.length === 0) throw new EngineRefusal(404, 'That series is not in the library.');
  return { store, id, members };
}

const fileOf = (store: Store, frameId: string) =>
  store.library.measured(store.photographs() ?? '', frameId)?.file ?? frameId;

function oneOfField<T extends string>(
  body: Readonly<Record<string, unknown>>,
  name: string,
  words: readonly T[],
): T | null {
  const value = body[name];
  if (value === null || value === undefined) return null;
  const found = words.find((word) => word === value);
  if (found !== undefined) return found;
  throw new EngineRefusal(
    400,
    `expected ${words.join(', ')} or null for ${name} but received ${String(value)}.`,
  );
}

const idOrNone = (body: Readonly<Record<string, unknown>>, name: string) =>
  body[name] === null || body[name] === undefined ? null : textField(body, name, 200);
