/** A few threads, each with a kernel and its own buffers, that decode and measure frames. */
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { existsSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { DeskFault } from '../files/faults.ts';
import { openBench, type TellTask } from './bench.ts';
import { giveBack, newSharedMemory } from './shared-memory.ts';
import { runTask, type TaskName, type TaskRequest, type TaskResult } from './tasks.ts';

export interface Pool {
  readonly size: number;
  /**
   * Runs one task as soon as a thread is free.
   *
   * @param tell called with what a long task says while it runs
   * @throws an Error with a sentence when the task fails; DeskFault when the pool was closed meanwhile
   */
  run<N extends TaskName>(name: N, request: TaskRequest<N>, tell?: TellTask): Promise<TaskResult<N>>;
  /** Ends the threads at once, whatever they are doing; waiting tasks are refused. */
  close(): Promise<void>;
}

interface Waiting {
  readonly name: TaskName;
  readonly request: unknown;
  readonly tell: TellTask | undefined;
  readonly resolve: (value: never) => void;
  readonly reject: (reason: Error) => void;
}

/** What a thread sends: how far it is, or at the end a value or the sentence of a fault. */
export type ThreadAnswer =
  | { readonly is: 'progress'; readonly done: number; readonly saying: string }
  | { readonly is: 'value'; readonly value: unknown; readonly worn: boolean }
  | { readonly is: 'fault'; readonly message: string; readonly worn: boolean };

/** What a thread is told when it starts: the memory for pictures, and its place in it. */
export interface ThreadStart {
  readonly shared: SharedArrayBuffer;
  readonly seat: number;
}

/** A thread that says nothing for so long is given up [ms]. */
const LONGEST_SILENCE_MS = 180_000;
/** One frame takes a few seconds at most, its wait for memory included; a damaged one may take for ever [ms]. */
const LONGEST_FRAME_MS = 90_000;
/** Headers are read at once, the start of a thread and a slow card included; a damaged raw may go round in circles [ms]. */
const LONGEST_HEADERS_MS = 15_000;
const oneFrame: ReadonlySet<TaskName> = new Set(['survey', 'look', 'decode', 'register']);

/**
 * A pool of worker threads; from sources, where no worker is built, the tasks run in this thread, one at a time.
 *
 * @param options.threads how many; by default one a core, at most four, for each may hold a large picture
 */
export function openPool(options: { readonly threads?: number } = {}): Pool {
  const script = fileURLToPath(new URL('./worker.mjs', import.meta.url));
  const threads = options.threads ?? Math.min(4, Math.max(1, availableParallelism()));
  return threads === 0 || !existsSync(script) ? inThisThread() : threaded(script, threads);
}

interface Seated {
  readonly worker: Worker;
  readonly seat: number;
}

const TOOK_TOO_LONG = new Error('took too long');
const HEADERS_TOOK_TOO_LONG = new Error('headers took too long');

function threaded(script: string, size: number): Pool {
  const queue: Waiting[] = [];
  const idle: Seated[] = [];
  const all = new Set<Seated>();
  const shared = newSharedMemory(size);
  const seats = Array.from({ length: size }, (_, seat) => seat);
  let closed = false;

  const next = () => {
    while (queue.length > 0) {
      const seated = idle.pop() ?? start();
      if (seated === undefined) return;
      const task = queue.shift();
      if (task === undefined) return;
      give(seated, task);
    }
  };
  const start = (): Seated | undefined => {
    const seat = seats.pop();
    if (seat === undefined) return undefined;
    const worker = new Worker(script, { workerData: { shared, seat } satisfies ThreadStart });
    worker.unref();
    const seated = { worker, seat };
    all.add(seated);
    return seated;
  };
  // Only the end of a thread gives the memory of its decoders back; its seat is free once it has ended.
  const end = async (seated: Seated) => {
    all.delete(seated);
    await seated.worker.terminate();
    giveBack(shared, seated.seat);
    seats.push(seated.seat);
    if (!closed) next();
  };
  const give = (seated: Seated, task: Waiting) => {
    const { worker } = seated;
    worker.ref();
    const finish = () => {
      clearTimeout(timer);
      worker.off('message', onMessage);
      worker.off('error', onEnd);
      worker.off('exit', onEnd);
    };
    const onMessage = (answer: ThreadAnswer) => {
      if (answer.is === 'progress') {
        clearTimeout(timer);
        timer = setTimeout(() => onEnd(TOOK_TOO_LONG), silenceMs);
        task.tell?.(answer);
        return;
      }
      finish();
      worker.unref();
      if (answer.is === 'value') task.resolve(answer.value as never);
      else task.reject(new Error(answer.message));
      if (answer.worn) void end(seated);
      else idle.push(seated);
      next();
    };
    // A thread that dies takes one picture with it, not the work.
    const onEnd = (cause: unknown) => {
      finish();
      const why =
        cause === HEADERS_TOOK_TOO_LONG
          ? 'Reading its headers took too long; it was given up.'
          : cause === TOOK_TOO_LONG
            ? 'Decoding it took too long; it was given up.'
            : cause instanceof Error && /memory/i.test(cause.message)
              ? 'There was not enough memory to decode it.'
              : 'Decoding it failed badly.';
      task.reject(closed ? new DeskFault('The work was stopped.') : new Error(why));
      void end(seated);
    };
    const silenceMs = oneFrame.has(task.name) ? LONGEST_FRAME_MS : LONGEST_SILENCE_MS;
    // A survey says when it has read the headers; from then on the picture's own time counts.
    let timer =
      task.name === 'survey'
        ? setTimeout(() => onEnd(HEADERS_TOOK_TOO_LONG), LONGEST_HEADERS_MS)
        : setTimeout(() => onEnd(TOOK_TOO_LONG), silenceMs);
    worker.on('message', onMessage);
    worker.once('error', onEnd);
    worker.once('exit', onEnd);
    worker.postMessage({ name: task.name, request: task.request });
  };

  return {
    size,
    run: (name, request, tell) =>
      new Promise((resolve, reject) => {
        if (closed) {
          reject(new DeskFault('The work was stopped.'));
          return;
        }
        queue.push({ name, request, tell, resolve, reject });
        next();
      }),
    async close() {
      closed = true;
      for (const task of queue.splice(0)) task.reject(new DeskFault('The work was stopped.'));
      await Promise.all([...all].map(({ worker }) => worker.terminate()));
      all.clear();
    },
  };
}

function inThisThread(): Pool {
  const bench = openBench();
  let last: Promise<unknown> = Promise.resolve();
  let closed = false;
  return {
    size: 1,
    run(name, request, tell) {
      const result = last.then(async () => {
        if (closed) throw new DeskFault('The work was stopped.');
        return runTask(await bench, name, request, tell ?? (() => undefined));
      });
      last = result.catch(() => undefined);
      return result.then(({ value }) => value);
    },
    async close() {
      closed = true;
      await last;
    },
  };
}
