/** What was learned from the photographer's own frames: beside what is typical, in words and drawn. */
import { useComputed, useSignal } from '@preact/signals';
import { learnDocument } from '@tepal/advice';
import type { LearnedParameter, StoreName } from '@tepal/formats';
import { engineOf } from '../engine/engine.ts';
import { notebookOf, readNotebook } from '../field/notebook.ts';
import { atDesk } from '../field/peer.ts';
import { counted } from '../words/amounts.ts';
import { spreadMarks } from './spread-marks.ts';

export function Learned({ store }: { store: StoreName }) {
  const said = useSignal<string | null>(null);
  const learned = useComputed(() => {
    const open = notebookOf(store).value;
    return open === null || open.room.list(open.notebook, 'evidence').length === 0
      ? null
      : learnDocument(open.notebook);
  }).value;
  const gather = async () => {
    const answer = await engineOf('mine').gatherEvidence();
    if (!answer.ok) {
      said.value = answer.fault.message;
      return;
    }
    const fault = await readNotebook('mine');
    const { frames, fresh } = answer.value;
    said.value = fault ?? `${counted(frames, 'measured frame')} in the notebook, ${fresh} of them new.`;
  };
  const behind = (learned?.parameters ?? []).filter(({ frames }) => frames > 0);
  return (
    <section aria-labelledby="learned">
      <h2 id="learned">What was learned</h2>
      <p class="faint">
        {learned === null || (learned.frames ?? 0) === 0
          ? 'Nothing yet: Days and Set-up use typical figures. Measure frames of an outing with logged set-ups.'
          : `From ${counted(learned.frames ?? 0, 'frame')} of yours. Beside each line, the upper bar is what is typical, the lower one what your frames say; a bar holds nine in ten, and what is beyond four times stands at the end.`}
      </p>
      <ul class="list">
        {behind.map((one) => (
          <li key={one.name} class="learned">
            <span>{one.saying ?? one.name}</span>
            <Spread of={one} />
          </li>
        ))}
      </ul>
      {(learned?.unused ?? []).map(({ why, frames }) => (
        <p key={why} class="faint small">
          {counted(frames, 'frame')} not used: {why}.
        </p>
      ))}
      {store === 'mine' && atDesk && (
        <div class="buttons">
          <button onClick={() => void gather()}>Learn from the measured frames</button>
          <span aria-live="polite">{said.value}</span>
        </div>
      )}
    </section>
  );
}

/** Prior and posterior as two bars round typical, from a quarter to four times. */
function Spread({ of: { prior, posterior } }: { of: LearnedParameter }) {
  const [before, now] = [spreadMarks(prior), spreadMarks(posterior)];
  return (
    <svg class="spread" viewBox="0 0 200 34" role="img" aria-label="typical against yours">
      <line x1="100" x2="100" y1="0" y2="24" class="spread-middle" />
      <line x1={before.from} x2={before.to} y1="7" y2="7" class="spread-before" />
      <line x1={now.from} x2={now.to} y1="17" y2="17" class="spread-now" />
      <circle cx={now.at} cy="17" r="4" class="spread-at" />
      <text x="2" y="33">
        ¼
      </text>
      <text x="100" y="33" text-anchor="middle">
        typical
      </text>
      <text x="198" y="33" text-anchor="end">
        4×
      </text>
    </svg>
  );
}
