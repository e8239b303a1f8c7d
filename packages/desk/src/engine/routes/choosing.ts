/** What becomes of decisions: ratings in sidecars, outs in the folder beside. */
import { USUAL_RATINGS, type Ratings } from '@tepal/advice';
import type { FastifyInstance } from 'fastify';
import { bringBackOuts, moveOuts } from '../../choosing/outs.ts';
import { planRatings, writeRatings } from '../../choosing/sidecars.ts';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import { bodyOf, storeOf } from './requests.ts';

export function choosingRoutes(server: FastifyInstance, engine: Engine): void {
  const opened = (params: unknown) => {
    const store = engine.stores[storeOf(params)];
    if (store.name === 'invented') {
      throw new EngineRefusal(
        403,
        'The invented outing is not yours to write to; decisions on it stay here.',
      );
    }
    const folder = store.photographs();
    if (folder === null) throw new EngineRefusal(404, 'No folder of photographs has been chosen yet.');
    return { library: store.library, folder };
  };
  /** One change of the folder at a time. */
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const next = last.then(work, work);
    last = next.catch(() => undefined);
    return next;
  };

  server.get('/api/:store/ratings', (request) => {
    const { library, folder } = opened(request.params);
    return planRatings(library, folder, { ratings: USUAL_RATINGS, changeOthers: false });
  });

  server.post('/api/:store/ratings', (request) => {
    const { library, folder } = opened(request.params);
    const body = bodyOf(request.body);
    const options = { ratings: ratingsOf(body['ratings']), changeOthers: body['changeOthers'] === true };
    return inTurn(() => writeRatings(library, folder, options));
  });

  server.post('/api/:store/outs', (request) => {
    const { library, folder } = opened(request.params);
    const { away } = bodyOf(request.body);
    if (typeof away !== 'boolean') {
      throw new EngineRefusal(400, `expected true or false for away but received ${String(away)}.`);
    }
    return inTurn(() => (away ? moveOuts(library, folder) : bringBackOuts(library, folder)));
  });
}

function ratingsOf(value: unknown): Ratings {
  if (value === undefined) return USUAL_RATINGS;
  const given = value as Partial<Record<keyof Ratings, unknown>>;
  const rating = (word: keyof Ratings): number => {
    const number = given[word];
    if (typeof number === 'number' && Number.isInteger(number) && number >= -1 && number <= 5) return number;
    throw new EngineRefusal(
      400,
      `expected a rating from -1 to 5 for ${word} but received ${String(number)}.`,
    );
  };
  return { keep: rating('keep'), maybe: rating('maybe'), out: rating('out') };
}
