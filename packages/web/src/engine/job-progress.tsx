/** Long work while it runs: a hatch that closes, what is being done, how long it still takes, and a way to stop it. */
import type { EngineClient, Job } from '@tepal/formats';
import { counted } from '../words/amounts.ts';
import { leftWords } from '../words/clock.ts';

const strokes = 120;

export function JobProgress({ job, engine }: { job: Job; engine: EngineClient }) {
  const share = job.total > 0 ? Math.min(1, job.done / job.total) : 0;
  const closed = Math.round(share * strokes);
  const left = job.secondsLeft === null ? '' : leftWords(job.secondsLeft);
  // Read aloud in tenths, not at every frame.
  const spoken = job.total > 0 ? `${Math.floor(share * 10) * 10} % done` : job.saying;
  return (
    <div class="progress">
      <svg
        viewBox={`0 0 ${strokes * 8} 36`}
        preserveAspectRatio="none"
        role="progressbar"
        aria-label={job.saying}
        aria-valuemin={0}
        aria-valuemax={job.total}
        aria-valuenow={job.done}
      >
        <path class="done" vector-effect="non-scaling-stroke" d={hatch(0, closed)} />
        <path class="left" vector-effect="non-scaling-stroke" d={hatch(closed, strokes)} />
      </svg>
      <div class="progress-words">
        <span>
          {job.saying}
          {job.total > 0 && ` ${job.done.toLocaleString('en-GB')} of ${job.total.toLocaleString('en-GB')}.`}
        </span>
        {left !== '' && <span class="faint">{left}</span>}
        <button class="quiet" onClick={() => void engine.cancel(job.id)}>
          Stop
        </button>
        <span class="unseen" aria-live="polite">
          {spoken}
        </span>
      </div>
    </div>
  );
}

function hatch(from: number, to: number): string {
  let path = '';
  for (let at = from; at < to; at++) path += `M${at * 8 + 2} 36L${at * 8 + 5} 0`;
  return path;
}

/** How long work ended, where that is worth a sentence. */
export function JobEnd({ job }: { job: Job }) {
  if (job.state === 'cancelled') return <p class="told">Stopped. What was done until then is kept.</p>;
  if (job.state !== 'failed') return null;
  return (
    <p class="told" role="alert">
      {job.fault ?? 'It failed, and no reason was given.'}
    </p>
  );
}

export function FailedFiles({ failed }: { failed: Job['failed'] }) {
  if (failed.length === 0) return null;
  return (
    <section aria-label="Files that could not be read">
      <h2>{counted(failed.length, 'file')} could not be read</h2>
      <p class="faint">The rest went on. Nothing was changed.</p>
      <ul class="list">
        {failed.map(({ file, reason }) => (
          <li key={file} class="failed-file">
            <span>{file}</span> <span class="faint">{reason}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
