/** Views across the outing: the few frames that are worth looking at first, and the kept ones as a judge would ask. */
import { useSignal, type ReadonlySignal } from '@preact/signals';
import {
  enginePaths,
  type FrameQuestions,
  type FramesAnswer,
  type LibraryFrame,
  type StoreName,
} from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { engineOf } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import { DecisionButtons } from './chosen-bar.tsx';
import type { Choosing } from './choosing.ts';
import { NearScreen } from './near-screen.tsx';
import { worthWords } from './series-order.ts';

/** Long edge of a whole frame in these views [px]. */
const previewPx = 1000;
const cellHeightCss = 380;

interface FewProps {
  readonly store: StoreName;
  readonly answer: FramesAnswer;
  readonly byId: ReadonlySignal<ReadonlyMap<string, LibraryFrame>>;
  readonly choosing: Choosing;
}

export function ShortListView({ store, answer, byId, choosing }: FewProps) {
  const listed = answer.shortList.flatMap(({ frameId, why }) => {
    const frame = byId.value.get(frameId);
    return frame === undefined ? [] : [{ frame, why }];
  });
  return (
    <>
      <h1>
        {listed.length === 0
          ? 'No frame of this folder is sharp enough for a short list.'
          : `${counted(listed.length, 'frame')} to look at first, unlike one another.`}
      </h1>
      <BackToRows store={store} />
      <ul class="few">
        {listed.map(({ frame, why }) => (
          <li key={frame.id}>
            <WholeFrame store={store} frame={frame} />
            <p>
              {frame.words} · {worthWords(frame)}
            </p>
            <p class="faint small">{why}</p>
            <DecisionButtons frame={frame} choosing={choosing} />
          </li>
        ))}
      </ul>
    </>
  );
}

export function KeptView({ store, answer, choosing }: FewProps) {
  const kept = answer.frames.filter(({ decision }) => decision === 'keep');
  return (
    <>
      <h1>
        {kept.length === 0
          ? 'Nothing is kept yet.'
          : `What a judge would ask of the ${counted(kept.length, 'frame')} you keep.`}
      </h1>
      <BackToRows store={store} />
      <ul class="few">
        {kept.map((frame, i) => (
          <li key={frame.id}>
            <NearScreen heightCss={cellHeightCss} first={i < 2}>
              {() => <Judged store={store} frame={frame} choosing={choosing} />}
            </NearScreen>
          </li>
        ))}
      </ul>
    </>
  );
}

function Judged({ store, frame, choosing }: { store: StoreName; frame: LibraryFrame; choosing: Choosing }) {
  const asked = useSignal<FrameQuestions | null>(null);
  const fault = useSignal<string | null>(null);
  useEffect(() => {
    void engineOf(store)
      .questions(frame.id)
      .then((answer) => {
        fault.value = answer.ok ? null : answer.fault.message;
        if (answer.ok) asked.value = answer.value;
      });
  }, [store, frame.id]);
  const questions = asked.value?.questions ?? [];
  return (
    <>
      <WholeFrame store={store} frame={frame} spots={questions.map(({ spot }) => spot)} />
      <p class="small">
        <strong>{frame.file.split('/').at(-1)}</strong> {frame.words}
      </p>
      <ol class="questions">
        {questions.map(({ question }) => (
          <li key={question}>{question}</li>
        ))}
      </ol>
      {typeof asked.value?.lessExposure === 'string' && <p class="small">{asked.value.lessExposure}</p>}
      {asked.value !== null && questions.length === 0 && (
        <p class="faint small">Nothing was found to ask about; that is no praise.</p>
      )}
      {fault.value !== null && <p class="told">{fault.value}</p>}
      <DecisionButtons frame={frame} choosing={choosing} />
    </>
  );
}

function WholeFrame(seen: {
  store: StoreName;
  frame: LibraryFrame;
  spots?: FrameQuestions['questions'][number]['spot'][];
}) {
  const { store, frame, spots = [] } = seen;
  return (
    <a
      class="whole-frame"
      href={addressOf(store, 'frames', { beside: frame.id })}
      style={{ aspectRatio: `${frame.widthPx} / ${frame.heightPx}` }}
    >
      <img
        alt={`${frame.file}, ${frame.words}`}
        loading="lazy"
        decoding="async"
        src={enginePaths.preview(store, frame.id, previewPx)}
      />
      {spots.map(({ x, y, width, height }, i) => (
        <span
          key={i}
          class="spot"
          aria-hidden="true"
          style={{
            left: `${x * 100}%`,
            top: `${y * 100}%`,
            width: `${width * 100}%`,
            height: `${height * 100}%`,
          }}
        >
          <b>{i + 1}</b>
        </span>
      ))}
    </a>
  );
}

function BackToRows({ store }: { store: StoreName }) {
  return (
    <p>
      <a href={addressOf(store, 'frames')}>Back to all series</a>
    </p>
  );
}
