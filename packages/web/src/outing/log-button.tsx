/** One tap logs what is set: under the answer, with the way to the notes below. */
import { useSignal } from '@preact/signals';
import type { ExposeDocument, StoreName } from '@tepal/formats';
import { notebookOf, writeNotebook } from '../field/notebook.ts';
import type { SetUpInputs } from '../set-up/question/inputs.ts';
import { clockWords, readersOffsetMin } from '../words/clock.ts';
import { currentOuting } from './current-outing.ts';
import { setUpToLog } from './log-set-up.ts';
import { positionHere } from './position-here.ts';

interface LogProps {
  readonly store: StoreName;
  readonly inputs: SetUpInputs;
  readonly advice: ExposeDocument;
}

/** Nobody lies waiting for a satellite longer than this [ms]. */
const waitMs = 4000;

/** Nothing where no outing is under way. */
export function LogButton({ store, inputs, advice }: LogProps) {
  const told = useSignal('');
  const busy = useSignal(false);
  const open = notebookOf(store).value;
  const outing = open === null ? null : currentOuting(open, Date.now());
  if (outing === null) return null;
  const log = async () => {
    busy.value = true;
    // The moment is that of the tap, whenever the position comes.
    const nowMs = Date.now();
    const position = await positionHere(waitMs);
    const now = notebookOf(store).value;
    if (now !== null) {
      const moment = { id: crypto.randomUUID(), outingId: outing.id, nowMs, position };
      const logged = setUpToLog(now, moment, inputs, advice);
      const fault = await writeNotebook(store, 'set-up logged', (pen) => pen.put('setUp', logged));
      const where = position === null ? ', without a position' : '';
      told.value = fault ?? `Logged at ${clockWords(nowMs, readersOffsetMin(nowMs))}${where}.`;
    }
    busy.value = false;
  };
  return (
    <div class="buttons">
      <button class="first" disabled={busy.value} onClick={() => void log()}>
        {busy.value ? 'Looking where this is' : 'Log this set-up'}
      </button>
      <a href="#outing">Note</a>
      <span aria-live="polite">{told.value}</span>
    </div>
  );
}
