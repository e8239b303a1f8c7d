/** Frames: what came home. The verdict, then each series as a row of crops at the point of focus. */
import { useComputed, useSignal, useSignalEffect } from '@preact/signals';
import type { EngineAnswer, Job, StoreName } from '@tepal/formats';
import { useEffect, useMemo } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import type { PageProps } from '../app/page-props.ts';
import { standing } from '../app/standing.ts';
import { engineOf } from '../engine/engine.ts';
import { FailedFiles, JobEnd, JobProgress } from '../engine/job-progress.tsx';
import { watchJob } from '../engine/watch-job.ts';
import { counted } from '../words/amounts.ts';
import { createChoosing } from './choosing.ts';
import { AfterChoosing } from './after-choosing.tsx';
import { KeptView, ShortListView } from './few-frames.tsx';
import { OutingForm } from './outing-set-up.tsx';
import { EarlierFolders } from './earlier-folders.tsx';
import { NearScreen } from './near-screen.tsx';
import { SeriesRow } from './series-row.tsx';
import { SideBySide } from './side-by-side.tsx';
import { useFrameKeys } from './frame-keys.ts';
import { ChosenBar } from './chosen-bar.tsx';

/** Rows on the first screen, and about how high one is [CSS px]. */
const drawnAtOnce = 3;
const rowHeightCss = 420;

/** While measuring goes on, the rows are asked for again this often [ms]. */
const refreshMs = 2500;

export function FramesPage({ store, query }: PageProps) {
  const engine = engineOf(store);
  const choosing = useMemo(() => createChoosing(engine), [engine]);
  const job = useSignal<Job | null>(null);
  const fault = useSignal<string | null>(null);
  const chosen = useSignal<string | null>(null);
  const beside = useSignal<readonly string[]>([]);
  const whole = useSignal<ReadonlySet<string>>(new Set());
  const asked = useSignal(false);

  const refresh = async () => {
    const answer = await engine.frames();
    asked.value = true;
    fault.value = answer.ok ? null : answer.fault.message;
    if (answer.ok) choosing.frames.value = answer.value;
  };
  const follow = async (id: string, signal?: AbortSignal) => {
    let refreshed = 0;
    const ended = await watchJob(
      engine,
      id,
      (now) => {
        job.value = now;
        if (now.done > 0 && Date.now() - refreshed > refreshMs) {
          refreshed = Date.now();
          void refresh();
        }
      },
      signal,
    );
    if (ended === null) return;
    if ('lost' in ended) fault.value = ended.lost;
    await refresh();
  };

  useEffect(() => {
    const stop = new AbortController();
    void (async () => {
      await refresh();
      const state = await engine.state();
      const running = state.ok ? state.value.stores.find((one) => one.store === store)?.jobId : null;
      if (typeof running === 'string' && !stop.signal.aborted) await follow(running, stop.signal);
    })();
    return () => stop.abort();
  }, [store]);

  useSignalEffect(() => {
    const answer = choosing.frames.value;
    // The invented outing's folder is a part of the program and says nothing.
    const folder =
      store === 'mine' ? (answer?.folder?.split(/[\\/]/).findLast((part) => part !== '') ?? '') : '';
    standing.value =
      answer === null || answer.frames.length === 0
        ? ''
        : [folder, counted(answer.frames.length, 'frame')].filter(Boolean).join(' · ');
  });

  const byId = useComputed(() => new Map((choosing.frames.value?.frames ?? []).map((one) => [one.id, one])));
  useFrameKeys({ choosing, chosen, beside, store });

  const regroup = (work: Promise<EngineAnswer<Job>>) =>
    void work.then(async (started) => {
      choosing.fault.value = started.ok ? null : started.fault.message;
      if (started.ok) await follow(started.value.id);
    });

  const laid = query.get('beside');
  if (laid !== null && choosing.frames.value !== null) {
    return (
      <SideBySide
        store={store}
        ids={laid.split(',')}
        choosing={choosing}
        onMarked={(marking) => void follow(marking)}
        job={job.value}
      />
    );
  }

  const answer = choosing.frames.value;
  const measuring = job.value !== null && ['waiting', 'running'].includes(job.value.state) ? job.value : null;
  const told = fault.value ?? choosing.fault.value;
  const view = query.get('view');
  if (answer !== null && view === 'short') return <ShortListView {...{ store, answer, byId, choosing }} />;
  if (answer !== null && view === 'kept') return <KeptView {...{ store, answer, byId, choosing }} />;
  return (
    <>
      <Verdict asked={asked.value} measuring={measuring} answer={answer} store={store} />
      {answer !== null && answer.frames.length > 0 && (
        <>
          <p class="ways">
            <a href={addressOf(store, 'frames', { view: 'short' })}>Short list</a>
            <a href={addressOf(store, 'frames', { view: 'kept' })}>What a judge would ask</a>
            <a href={addressOf(store, 'days')}>The frames in their wind</a>
          </p>
          <OutingForm store={store} choosing={choosing} />
        </>
      )}
      {answer?.gone === true && (
        <p class="told" role="alert">
          The folder {answer.folder} cannot be found: its disk is not connected, or it was moved. What was
          measured stays here; the crops come back with the folder.
        </p>
      )}
      {told !== null && (
        <p class="told" role="alert">
          {told}
        </p>
      )}
      {measuring !== null && <JobProgress job={measuring} engine={engine} />}
      {job.value !== null && <JobEnd job={job.value} />}
      {(answer?.series ?? []).map((series, i, all) => (
        <NearScreen key={series.id} heightCss={rowHeightCss} first={i < drawnAtOnce}>
          {() => (
            <SeriesRow
              store={store}
              series={series}
              byId={byId}
              chosen={chosen}
              beside={beside}
              choosing={choosing}
              whole={whole}
              before={all[i - 1]?.id ?? null}
              onRegroup={regroup}
            />
          )}
        </NearScreen>
      ))}
      {answer !== null && store === 'mine' && <AfterChoosing engine={engine} answer={answer} />}
      {answer !== null && store === 'mine' && (
        <EarlierFolders
          answer={answer}
          open={async (path) => {
            const other = await engine.openFolder(path);
            fault.value = other.ok ? null : other.fault.message;
            if (!other.ok) return;
            chosen.value = null;
            beside.value = [];
            choosing.frames.value = other.value;
            scrollTo({ top: 0 });
          }}
        />
      )}
      <FailedFiles failed={answer?.failed ?? job.value?.failed ?? []} />
      <ChosenBar {...{ store, choosing, chosen, beside, byId }} onRegroup={regroup} />
    </>
  );
}

function Verdict(seen: {
  asked: boolean;
  measuring: Job | null;
  answer: ReturnType<typeof createChoosing>['frames']['value'];
  store: StoreName;
}) {
  const { asked, measuring, answer, store } = seen;
  if (answer !== null && answer.frames.length > 0) {
    const [first = `${counted(answer.frames.length, 'frame')}, measured.`, ...rest] = answer.verdict;
    return (
      <div class="answer verdict">
        <h1>{first}</h1>
        {rest.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </div>
    );
  }
  if (measuring !== null) return <h1>The first frames will stand here in a moment.</h1>;
  if (!asked) return <h1>Looking at what came home.</h1>;
  if (answer === null) return <h1>The frames cannot be shown.</h1>;
  return store === 'invented' ? (
    <h1>The invented outing’s frames are not here yet.</h1>
  ) : (
    <>
      <h1>No photographs have been looked at yet.</h1>
      <p class="faint">Choose the folder that came home; each frame is measured where it must be sharp.</p>
      <div class="buttons">
        <a class="button first" href="/?folder=">
          Choose a folder of your photographs
        </a>
        <a class="button" href="/invented/frames">
          Look at the invented outing
        </a>
      </div>
    </>
  );
}
