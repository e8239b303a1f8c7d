/** The desk's engine as the pages reach it, one client for each store. */
import { createEngineClient, type EngineAnswer, type EngineClient, type StoreName } from '@tepal/formats';

const clientOf = (store: StoreName): EngineClient =>
  createEngineClient({ fetch: (url, init) => fetch(url, init), baseUrl: '', store });

const clients: Readonly<Record<StoreName, EngineClient>> = {
  mine: clientOf('mine'),
  invented: clientOf('invented'),
};

export function engineOf(store: StoreName): EngineClient {
  return clients[store];
}

/** What a page holds while it asks: nothing yet, the value, or the sentence that says why there is none. */
export type Asked<T> =
  | { readonly at: 'asking' }
  | { readonly at: 'here'; readonly value: T }
  | { readonly at: 'fault'; readonly message: string };

export const asking = { at: 'asking' } as const;

export function askedFrom<T>(answer: EngineAnswer<T>): Asked<T> {
  return answer.ok ? { at: 'here', value: answer.value } : { at: 'fault', message: answer.fault.message };
}
