/** Watching long work of the engine until it ends. */
import type { EngineClient, Job } from '@tepal/formats';

/** How often the work is asked after [ms]: often enough to look alive, rarely enough to cost nothing. */
const everyMs = 400;

export const hasEnded = (job: Job): boolean =>
  job.state === 'done' || job.state === 'failed' || job.state === 'cancelled';

/**
 * Follows a job to its end.
 *
 * @param engine who does the work
 * @param id the job
 * @param onChange called with every state seen, the last included
 * @param signal stops the watching, not the job
 * @returns the job as it ended, or the sentence that says why it can no longer be followed; null when stopped
 */
export async function watchJob(
  engine: EngineClient,
  id: string,
  onChange: (job: Job) => void,
  signal?: AbortSignal,
): Promise<Job | { readonly lost: string } | null> {
  const stopped = () => signal?.aborted ?? false;
  while (!stopped()) {
    const answer = await engine.job(id);
    if (stopped()) return null;
    if (!answer.ok) return { lost: answer.fault.message };
    onChange(answer.value);
    if (hasEnded(answer.value)) return answer.value;
    await new Promise((resolve) => setTimeout(resolve, everyMs));
  }
  return null;
}
