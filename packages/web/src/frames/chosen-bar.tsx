/** What can be done with the frame that is chosen; within reach of the thumb. */
import type { ReadonlySignal, Signal } from '@preact/signals';
import type { Decision, EngineAnswer, Job, LibraryFrame, StoreName } from '@tepal/formats';
import { addressOf } from '../app/address.ts';
import { engineOf } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import type { Choosing } from './choosing.ts';
import { layBeside, openBeside } from './frame-keys.ts';

const decisions: readonly (readonly [Decision, string, string])[] = [
  ['keep', 'Keep', 'K'],
  ['maybe', 'Maybe', 'M'],
  ['out', 'Out', 'O'],
];

export function DecisionButtons({ frame, choosing }: { frame: LibraryFrame; choosing: Choosing }) {
  return (
    <span class="decisions" role="group" aria-label={`Decision on ${frame.file}`}>
      {decisions.map(([decision, word, key]) => (
        <button
          key={decision}
          class={frame.decision === decision ? 'first' : undefined}
          aria-pressed={frame.decision === decision}
          aria-keyshortcuts={key}
          onClick={() => void choosing.decide(frame.id, decision)}
        >
          {word}
        </button>
      ))}
    </span>
  );
}

export function UndoButton({ choosing }: { choosing: Choosing }) {
  const count = choosing.steps.value.length;
  return (
    <button class="quiet" disabled={count === 0} aria-keyshortcuts="Z" onClick={() => void choosing.undo()}>
      Undo<span class="unseen">, {counted(count, 'decision')} can be undone</span>
    </button>
  );
}

export function ChosenBar(bar: {
  store: StoreName;
  choosing: Choosing;
  chosen: Signal<string | null>;
  beside: Signal<readonly string[]>;
  byId: ReadonlySignal<ReadonlyMap<string, LibraryFrame>>;
  onRegroup: (work: Promise<EngineAnswer<Job>>) => void;
}) {
  const { store, choosing, chosen, beside, byId, onRegroup } = bar;
  const frame = chosen.value === null ? undefined : byId.value.get(chosen.value);
  if (frame === undefined) return null;
  const begins = choosing.frames.value?.series.find(({ id }) => id === frame.series)?.frameIds[0];
  const laid = beside.value;
  const isLaid = laid.includes(frame.id);
  return (
    <div class="chosen-bar" role="region" aria-label="The chosen frame">
      <p class="small">
        <strong>{frame.file.split('/').at(-1)}</strong>{' '}
        <span class="faint">{frame.reasons[0] ?? frame.words}</span>
      </p>
      {frame.reasons.length > 1 && (
        <details class="why small">
          <summary>Why</summary>
          <ul>
            {frame.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </details>
      )}
      <div class="bar-buttons">
        <DecisionButtons frame={frame} choosing={choosing} />
        <UndoButton choosing={choosing} />
        <button
          class="quiet"
          aria-pressed={isLaid}
          aria-keyshortcuts="B"
          onClick={() => layBeside(beside, frame.id)}
        >
          {isLaid ? 'Not beside' : 'Lay beside'}
        </button>
        {laid.length > 1 ? (
          <button onClick={() => openBeside(store, laid)}>{laid.length} side by side</button>
        ) : (
          <button class="quiet" onClick={() => openBeside(store, [frame.id])}>
            Open
          </button>
        )}
        <a class="quiet-link" href={addressOf(store, 'picture', { frame: frame.id })}>
          Deliver
        </a>
        {begins !== frame.id && (
          <button class="quiet" onClick={() => onRegroup(engineOf(store).partSeries(frame.series, frame.id))}>
            New series from here
          </button>
        )}
      </div>
      <p class="keys faint">K keep, M maybe, O out, arrows, Z undo, B beside, Enter opens</p>
    </div>
  );
}
