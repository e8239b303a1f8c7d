/** The worker of the days, started when it is first asked. */
import type { Answering, AskName, WorkerAsks } from './worker-messages.ts';

/** Written in by the build: where the worker's script lies. */
declare const daysWorkerAddress: string;

let started: Worker | null = null;
let asked = 0;
const waiting = new Map<number, (answering: Answering) => void>();

function startedWorker(): Worker {
  if (started !== null) return started;
  const worker = new Worker(daysWorkerAddress, { type: 'module' });
  worker.addEventListener('message', ({ data }: MessageEvent<Answering>) => {
    waiting.get(data.id)?.(data);
    waiting.delete(data.id);
  });
  worker.addEventListener('error', () => {
    const message = 'The script of the days did not load. Reload once there is a network.';
    for (const [id, tell] of waiting) tell({ id, ok: false, message });
    waiting.clear();
    started = null;
  });
  return (started = worker);
}

export type WorkerAnswer<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string };

/** Asks the worker; a fault comes back as a sentence. */
export function askWorker<K extends AskName>(
  name: K,
  ask: WorkerAsks[K]['ask'],
): Promise<WorkerAnswer<WorkerAsks[K]['answer']>> {
  return new Promise((resolve) => {
    const id = asked++;
    waiting.set(id, (answering) =>
      resolve(
        answering.ok
          ? { ok: true, value: answering.answer as WorkerAsks[K]['answer'] }
          : { ok: false, message: answering.message },
      ),
    );
    startedWorker().postMessage({ id, name, ask });
  });
}
