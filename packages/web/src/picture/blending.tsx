/** A blend under way: one picture that closes as frames come in; what is still unfilled is hatched. */
import { useSignal } from '@preact/signals';
import { enginePaths, type Job, type StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { goTo } from '../app/navigate.ts';
import { engineOf } from '../engine/engine.ts';
import { FailedFiles, JobEnd, JobProgress } from '../engine/job-progress.tsx';
import { hasEnded, watchJob } from '../engine/watch-job.ts';

export function Blending({ store, jobId, from }: { store: StoreName; jobId: string; from: string | null }) {
  const engine = engineOf(store);
  const job = useSignal<Job | null>(null);
  const lost = useSignal<string | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    void watchJob(engine, jobId, (now) => (job.value = now), stop.signal).then((ended) => {
      if (ended === null) return;
      if ('lost' in ended) lost.value = ended.lost;
      else if (ended.pictureId !== null) {
        goTo(addressOf(store, 'picture', { picture: ended.pictureId }), { replace: true });
      }
    });
    return () => stop.abort();
  }, [jobId]);

  const now = job.value;
  const open = now === null || now.total === 0 ? 1 : 1 - Math.min(1, now.done / now.total);
  const ended = now !== null && hasEnded(now);
  return (
    <>
      <h1>
        {ended && now.state !== 'done'
          ? 'The series was not blended.'
          : 'The series is closing into one picture.'}
      </h1>
      {lost.value !== null && (
        <p class="told" role="alert">
          {lost.value}
        </p>
      )}
      {now !== null && <JobEnd job={now} />}
      {now !== null && !ended && <JobProgress job={now} engine={engine} />}
      {from !== null && (
        <div class="stand">
          <div class="closing">
            <img alt="The frame that the others are laid on" src={enginePaths.preview(store, from, 1200)} />
            <svg aria-hidden="true" preserveAspectRatio="none" viewBox="0 0 100 100">
              <defs>
                <pattern
                  id="unfilled"
                  width="1.4"
                  height="1.4"
                  patternUnits="userSpaceOnUse"
                  patternTransform="rotate(24)"
                >
                  <path d="M0.7 0V1.4" stroke="#f7f4ec" stroke-width="0.34" />
                </pattern>
              </defs>
              <rect x={100 - open * 100} width={open * 100} height="100" fill="url(#unfilled)" />
            </svg>
          </div>
        </div>
      )}
      {now !== null && <FailedFiles failed={now.failed} />}
      <div class="buttons">
        <a class="button" href={addressOf(store, 'frames')}>
          Back to the frames
        </a>
      </div>
    </>
  );
}
