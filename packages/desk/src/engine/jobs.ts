/** Long work: started, watched, cancelled. Finished jobs are kept for a while, so that a late page sees the end. */
import type { DeliverDocument, Job, JobKind } from '@tepal/formats';
import { randomUUID } from 'node:crypto';
import { EventEmitter } from 'node:events';
import { reasonOf } from '../files/faults.ts';

/** What a job tells while it runs. */
export interface JobProgress {
  readonly done?: number;
  readonly total?: number;
  readonly saying?: string;
}

export interface JobOutcome {
  readonly saying: string;
  readonly failed?: Job['failed'];
  readonly pictureId?: string;
  readonly deliver?: DeliverDocument;
}

export type JobWork = (signal: AbortSignal, tell: (progress: JobProgress) => void) => Promise<JobOutcome>;

export interface Jobs {
  start(kind: JobKind, saying: string, work: JobWork): Job;
  job(id: string): Job | null;
  cancel(id: string): Job | null;
  /** Calls `listen` with each change; @returns how to stop listening */
  watch(id: string, listen: (job: Job) => void): () => void;
  /** Cancels everything and waits until it has stopped. */
  close(): Promise<void>;
}

const KEPT = 50;

export function openJobs(clock: () => number = () => performance.now()): Jobs {
  const jobs = new Map<string, { job: Job; abort: AbortController; ended: Promise<void> }>();
  const events = new EventEmitter().setMaxListeners(0);

  const update = (id: string, change: Partial<Job>) => {
    const entry = jobs.get(id);
    if (entry === undefined) return;
    entry.job = { ...entry.job, ...change };
    events.emit(id, entry.job);
  };

  return {
    start(kind, saying, work) {
      const id = randomUUID();
      const abort = new AbortController();
      const job: Job = {
        ...{ id, kind, state: 'running', done: 0, total: 0, saying, secondsLeft: null },
        ...{ failed: [], pictureId: null, deliver: null, fault: null },
      };
      const startedMs = clock();
      const tell = (progress: JobProgress) => {
        const now = jobs.get(id)?.job;
        if (now?.state !== 'running') return;
        const done = progress.done ?? now.done;
        const total = progress.total ?? now.total;
        const secondsLeft =
          done >= 3 && total > done
            ? Math.ceil((((clock() - startedMs) / done) * (total - done)) / 1000)
            : null;
        update(id, { ...progress, secondsLeft });
      };
      const ended = (async () => {
        try {
          const { failed = [], pictureId = null, deliver = null, ...rest } = await work(abort.signal, tell);
          const total = jobs.get(id)?.job.total ?? 0;
          update(id, { state: 'done', done: total, secondsLeft: 0, failed, pictureId, deliver, ...rest });
        } catch (error) {
          const cancelled = abort.signal.aborted;
          update(
            id,
            cancelled
              ? { state: 'cancelled', secondsLeft: null, saying: 'Stopped.' }
              : { state: 'failed', secondsLeft: null, fault: reasonOf(error), saying: 'It failed.' },
          );
        }
      })();
      jobs.set(id, { job, abort, ended });
      for (const [old, entry] of jobs) {
        if (jobs.size <= KEPT) break;
        if (entry.job.state !== 'running') jobs.delete(old);
      }
      return job;
    },
    job: (id) => jobs.get(id)?.job ?? null,
    cancel(id) {
      const entry = jobs.get(id);
      if (entry === undefined) return null;
      entry.abort.abort();
      return entry.job;
    },
    watch(id, listen) {
      events.on(id, listen);
      return () => events.off(id, listen);
    },
    async close() {
      for (const { abort } of jobs.values()) abort.abort();
      await Promise.all([...jobs.values()].map(({ ended }) => ended));
    },
  };
}
