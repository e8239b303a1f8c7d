/** The worker that measures a test shot, started when the first picture is chosen. */
import type { ShotAnswer, ShotAsk } from './shot-messages.ts';

/** Written in by the build: where the worker's script lies. */
declare const shotWorkerAddress: string;

let started: Worker | null = null;
let turn: Promise<unknown> = Promise.resolve();

/** Measures, one picture or point after the other. */
export function measureShot(ask: ShotAsk): Promise<ShotAnswer> {
  const next = turn.then(() => askNow(ask));
  turn = next;
  return next;
}

function askNow(ask: ShotAsk): Promise<ShotAnswer> {
  const worker = (started ??= new Worker(shotWorkerAddress, { type: 'module' }));
  return new Promise((resolve) => {
    const done = (said: ShotAnswer) => {
      worker.removeEventListener('message', onMessage);
      worker.removeEventListener('error', onError);
      resolve(said);
    };
    const onMessage = ({ data }: MessageEvent<ShotAnswer>) => done(data);
    const onError = () => {
      started = null;
      done({ ok: false, message: 'The script that measures did not load. Reload once there is a network.' });
    };
    worker.addEventListener('message', onMessage);
    worker.addEventListener('error', onError);
    worker.postMessage(ask);
  });
}
