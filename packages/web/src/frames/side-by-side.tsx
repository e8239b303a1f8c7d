/** One to four frames beside each other at 100 %, locked together: to move one is to move them all. */
import { useComputed, useSignal } from '@preact/signals';
import type { Job, LibraryFrame, StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { goTo } from '../app/navigate.ts';
import { engineOf } from '../engine/engine.ts';
import { JobEnd, JobProgress } from '../engine/job-progress.tsx';
import { hasEnded } from '../engine/watch-job.ts';
import { DecisionButtons, UndoButton } from './chosen-bar.tsx';
import type { Choosing } from './choosing.ts';
import { FramePane, prefetch } from './frame-pane.tsx';
import { mostBeside } from './frame-keys.ts';
import { bestFirst, worthWords } from './series-order.ts';

/** How far an arrow key moves the frames [px of the frame]. */
const stepPx = 60;

interface Props {
  readonly store: StoreName;
  readonly ids: readonly string[];
  readonly choosing: Choosing;
  readonly onMarked: (jobId: string) => void;
  readonly job: Job | null;
}

export function SideBySide({ store, ids, choosing, onMarked, job }: Props) {
  const engine = engineOf(store);
  const pan = useSignal({ x: 0, y: 0 });
  const settled = useSignal({ x: 0, y: 0 });
  const marking = useSignal(false);
  const whole = useSignal(false);
  const hatched = useSignal(false);
  const marked = useSignal<string | null>(null);
  const byId = useComputed(
    () => new Map((choosing.frames.value?.frames ?? []).map((one) => [one.id, one])),
  ).value;
  const frames = ids.slice(0, mostBeside).flatMap((id) => byId.get(id) ?? []);
  const first = frames[0];
  const series = choosing.frames.value?.series.find(({ id }) => id === first?.series);

  // The last pane goes on through the series while the others stay to be compared with; pan and whole frame are kept.
  const row = series === undefined ? [] : bestFirst(series, byId);
  const at = row.findIndex(({ id }) => id === ids.at(-1));
  const free = (frame: LibraryFrame) => !ids.slice(0, -1).includes(frame.id);
  const neighbours = at < 0 ? [] : [row.slice(0, at).findLast(free), row.slice(at + 1).find(free)];
  const step = (which: number) => {
    const next = neighbours[which];
    if (next !== undefined) {
      goTo(addressOf(store, 'frames', { beside: [...ids.slice(0, -1), next.id].join(',') }), {
        replace: true,
      });
    }
  };
  const soon = neighbours.map((frame) => frame?.id ?? '').join(',');
  useEffect(() => {
    for (const frame of neighbours) if (frame !== undefined) prefetch(store, frame, pan.value);
  }, [soon, settled.value]);

  const close = () => goTo(addressOf(store, 'frames'));
  const mark = async (frame: LibraryFrame, place: { x: number; y: number }) => {
    marking.value = false;
    marked.value = null;
    const answer = await engine.markPoint(frame.series, { frameId: frame.id, ...place });
    if (!answer.ok) {
      choosing.fault.value = answer.fault.message;
      return;
    }
    choosing.fault.value = null;
    marked.value = 'The point of focus is marked; the series is measured again there.';
    pan.value = { x: 0, y: 0 };
    settled.value = { x: 0, y: 0 };
    onMarked(answer.value.id);
  };

  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.target instanceof HTMLInputElement || event.ctrlKey || event.metaKey) return;
      const moves: Record<string, readonly [number, number]> = {
        ArrowLeft: [-1, 0],
        ArrowRight: [1, 0],
        ArrowUp: [0, -1],
        ArrowDown: [0, 1],
      };
      const move = moves[event.key];
      if (move !== undefined) {
        event.preventDefault();
        pan.value = { x: pan.value.x + move[0] * stepPx, y: pan.value.y + move[1] * stepPx };
        settled.value = pan.value;
      } else if (event.key === 'Escape') {
        if (marking.value) marking.value = false;
        else close();
      } else if (event.key === ',' || event.key === '.') {
        step(event.key === ',' ? 0 : 1);
      } else if (event.key.toLowerCase() === 's') {
        hatched.value = !hatched.value;
      } else if (event.key.toLowerCase() === 'w') {
        whole.value = !whole.value;
      } else if (event.key.toLowerCase() === 'p' && first !== undefined) {
        void mark(first, {
          x: first.point.x + pan.value.x / first.widthPx,
          y: first.point.y + pan.value.y / first.heightPx,
        });
      }
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [first, ids.join()]);

  if (first === undefined) {
    return (
      <>
        <h1>That frame is not in this folder.</h1>
        <div class="buttons">
          <a class="button" href={addressOf(store, 'frames')}>
            Back to the frames
          </a>
        </div>
      </>
    );
  }
  return (
    <div class="beside">
      <h1 class="beside-title">{answerWords(frames, series?.name)}</h1>
      <div class="bar-buttons">
        <button onClick={close}>Back to the frames</button>
        <button
          class="quiet"
          aria-pressed={whole.value}
          aria-keyshortcuts="W"
          onClick={() => (whole.value = !whole.value)}
        >
          {whole.value ? 'Show at 100 %' : 'Show the whole frame'}
        </button>
        <button
          class="quiet"
          aria-pressed={hatched.value}
          aria-keyshortcuts="S"
          onClick={() => (hatched.value = !hatched.value)}
        >
          {hatched.value ? 'Hide what is sharp' : 'Hatch what is sharp'}
        </button>
        {(['Earlier', 'Next'] as const).map((word, i) => (
          <button
            key={word}
            class="quiet"
            disabled={neighbours[i] === undefined}
            aria-keyshortcuts={i === 0 ? ',' : '.'}
            onClick={() => step(i)}
          >
            {word}
            <span class="unseen"> by rank in the series</span>
          </button>
        ))}
        <button
          class={marking.value ? 'first' : 'quiet'}
          aria-pressed={marking.value}
          onClick={() => (marking.value = !marking.value)}
        >
          {marking.value ? 'Now touch what must be sharp' : 'Mark the point of focus'}
        </button>
        <UndoButton choosing={choosing} />
      </div>
      <p class="unseen" aria-live="polite">
        {marked.value ?? ''}
      </p>
      {choosing.fault.value !== null && (
        <p class="told" role="alert">
          {choosing.fault.value}
        </p>
      )}
      {job !== null && !hasEnded(job) && <JobProgress job={job} engine={engine} />}
      {job !== null && <JobEnd job={job} />}
      <div class={`panes of-${frames.length}`}>
        {frames.map((frame) => (
          <figure key={frame.id}>
            <FramePane
              store={store}
              frame={frame}
              pan={pan}
              settled={settled}
              whole={whole.value}
              hatched={hatched.value}
              marking={marking.value}
              onMark={(place) => void mark(frame, place)}
            />
            <figcaption>
              <span>
                {frame.words} · {worthWords(frame)}
              </span>
              <span class="file">{frame.file.split('/').at(-1)}</span>
              <DecisionButtons frame={frame} choosing={choosing} />
              {frames.length === 1 && (
                <ul class="reasons">
                  {frame.reasons.map((reason) => (
                    <li key={reason}>{reason}</li>
                  ))}
                </ul>
              )}
            </figcaption>
          </figure>
        ))}
      </div>
      <p class="keys faint">
        Drag or arrows move all of them; comma and full stop go through the series; W whole frame; S what is
        sharp; P marks the middle; Escape goes back
      </p>
    </div>
  );
}

function answerWords(frames: readonly LibraryFrame[], name: string | undefined): string {
  const first = frames[0];
  if (first === undefined) return '';
  if (frames.length === 1) return `${name ?? 'This frame'}: ${first.words}.`;
  const best = frames
    .filter(({ blur }) => blur.sigmaPx !== null)
    .toSorted((a, b) => (a.blur.sigmaPx ?? 0) - (b.blur.sigmaPx ?? 0))[0];
  const sameSeries = frames.every(({ series }) => series === first.series);
  if (best === undefined || !sameSeries) return `${frames.length} frames, locked together.`;
  return `Of these ${frames.length}, ${best.file.split('/').at(-1)} is the sharpest at the point: ${best.words}.`;
}
