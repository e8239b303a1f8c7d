/** When the photographer can go: asked once, then a few lines that can be changed. */
import { useSignal } from '@preact/signals';
import type { KeptLists } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import { textOf } from '../places/typed-number.ts';
import { ToldAndUndo } from '../places/told-and-undo.tsx';
import { freeWords, weeklyEntries, WEEKDAYS } from './week-hours.ts';

const askedKey = 'tepal free hours asked';

function wasAsked(): boolean {
  try {
    return localStorage.getItem(askedKey) !== null;
  } catch {
    return true;
  }
}

/** The question, until it is answered or waved off. */
export function AskFreeHours({ lists }: { lists: KeptLists }) {
  const asked = useSignal(wasAsked());
  if (asked.value || lists.freeHours.length > 0 || lists.sites.length === 0) return null;
  const answered = () => {
    asked.value = true;
    try {
      localStorage.setItem(askedKey, 'yes');
    } catch {
      // Then it is asked once more the next time.
    }
  };
  return (
    <details class="folded ask-free">
      <summary>When can you go? Asked once: only hours in which you are free are then ranked.</summary>
      <WeekForm onDone={answered} />
      <button class="quiet" onClick={answered}>
        At any time
      </button>
    </details>
  );
}

export function FreeHoursEditor({ lists }: { lists: KeptLists }) {
  const told = useSignal<string | null>(null);
  const remove = async (id: string) => {
    const fault = await writeNotebook('mine', 'free hours taken off', (pen) => pen.remove('freeHours', id));
    told.value = fault ?? 'These hours are off the list.';
    void workOut('mine');
  };
  return (
    <>
      <ToldAndUndo told={told} />
      {lists.freeHours.length === 0 ? (
        <p class="faint">None noted: every hour counts as free.</p>
      ) : (
        <ul class="list places-list">
          {lists.freeHours
            .toSorted((a, b) => (a.from < b.from ? -1 : 1))
            .map((entry) => (
              <li key={entry.id} class="place-row">
                <span>{freeWords(entry)}</span>
                <button class="quiet" onClick={() => void remove(entry.id)}>
                  Take off<span class="unseen"> {freeWords(entry)}</span>
                </button>
              </li>
            ))}
        </ul>
      )}
      <WeekForm onDone={(words) => (told.value = words)} />
    </>
  );
}

function WeekForm({ onDone }: { onDone: (told: string) => void }) {
  const fault = useSignal<string | null>(null);
  const add = async (form: HTMLFormElement) => {
    const data = new FormData(form);
    const days = WEEKDAYS.filter((day) => data.getAll('day').includes(day));
    const [fromClock, toClock] = [textOf(data, 'from'), textOf(data, 'to')];
    if (days.length === 0 || fromClock === '' || toClock === '') {
      fault.value = 'Tick at least one day, and give both times.';
      return;
    }
    const entries = weeklyEntries(
      { days, fromClock, toClock },
      {
        nowMs: Date.now(),
        timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone ?? null,
        idOf: () => crypto.randomUUID(),
      },
    );
    fault.value = await writeNotebook('mine', 'free hours added', (pen) => {
      for (const entry of entries) pen.put('freeHours', entry);
    });
    if (fault.value !== null) return;
    form.reset();
    void workOut('mine');
    onDone('The hours are noted.');
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void add(event.currentTarget);
      }}
    >
      <fieldset class="field">
        <legend>Every week on</legend>
        <div class="choices">
          {WEEKDAYS.map((day) => (
            <label key={day}>
              <input type="checkbox" name="day" value={day} />
              {day}
            </label>
          ))}
        </div>
      </fieldset>
      <div class="fields">
        <div class="field">
          <label for="free-from">From</label>
          <input id="free-from" name="from" type="time" defaultValue="04:00" />
        </div>
        <div class="field">
          <label for="free-to">To</label>
          <input id="free-to" name="to" type="time" defaultValue="22:00" />
        </div>
      </div>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      <div class="buttons">
        <button>Note these hours</button>
      </div>
    </form>
  );
}
