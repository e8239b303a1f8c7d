/** A new record, written in the notebook: what, when, where, how many. */
import { useComputed, useSignal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import { useEffect, useRef } from 'preact/hooks';
import { notebookOf, readNotebook, writeNotebook } from '../field/notebook.ts';

interface FormProps {
  readonly store: StoreName;
  /** The name of the series in view, when one came from there. */
  readonly about: string | null;
  readonly onAdded: () => void;
}

export function RecordForm({ store, about, onAdded }: FormProps) {
  const fault = useSignal<string | null>(null);
  const added = useSignal<string | null>(null);
  const writing = useSignal(false);
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    void readNotebook(store).then((told) => (fault.value = told));
  }, [store]);
  const kept = useComputed(() => {
    const open = notebookOf(store).value;
    if (open === null) return { subjects: [], sites: [] };
    return {
      subjects: open.room.list(open.notebook, 'subject'),
      sites: open.room.list(open.notebook, 'site'),
    };
  }).value;

  const add = async (data: FormData) => {
    const text = (name: string) => String(data.get(name) ?? '').trim();
    const name = text('what');
    const subject = kept.subjects.find(({ scientificName, commonNames }) =>
      [scientificName, ...Object.values(commonNames)].some(
        (known) => known.toLowerCase() === name.toLowerCase(),
      ),
    );
    const count = text('count');
    if (count !== '' && !/^\d+$/.test(count)) {
      fault.value = `Expected a whole number, or nothing, for how many, but found “${count}”.`;
      return;
    }
    writing.value = true;
    added.value = null;
    fault.value = await writeNotebook(store, 'sighting recorded', (pen) =>
      pen.put('record', {
        id: crypto.randomUUID(),
        subjectId: subject?.id ?? null,
        verbatimName: subject === undefined ? name : null,
        outingId: null,
        siteId: text('site') === '' ? null : text('site'),
        position: null,
        eventDate: text('date'),
        individualCount: count === '' ? null : Number(count),
        lifeStage: null,
        certainty: certaintyOf(text('certainty')),
        determiner: text('determiner') === '' ? null : text('determiner'),
        recordedBy: null,
        evidence: [],
        associatedSpecies: [],
        remarks: text('remarks'),
        extraTerms: {},
      }),
    );
    writing.value = false;
    if (fault.value !== null) return;
    added.value = `${name} is recorded.`;
    form.current?.reset();
    onAdded();
  };

  return (
    <section aria-labelledby="record-form">
      <h2 id="record-form">Record a sighting</h2>
      <form
        ref={form}
        onSubmit={(event) => {
          event.preventDefault();
          void add(new FormData(event.currentTarget));
        }}
      >
        <div class="fields">
          <div class="field">
            <label for="what">Name, scientific or common</label>
            <input
              id="what"
              name="what"
              list="known-subjects"
              required
              autocomplete="off"
              defaultValue={about ?? ''}
            />
            <datalist id="known-subjects">
              {kept.subjects.map(({ id, scientificName, commonNames }) => (
                <option key={id} value={scientificName}>
                  {Object.values(commonNames)[0] ?? ''}
                </option>
              ))}
            </datalist>
          </div>
          <div class="field">
            <label for="date">Day</label>
            <input id="date" name="date" type="date" required defaultValue={today()} />
          </div>
          <div class="field">
            <label for="site">Place</label>
            <select id="site" name="site">
              <option value="">not said</option>
              {kept.sites.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </div>
          <div class="field">
            <label for="count">How many (may be left empty)</label>
            <input id="count" name="count" inputMode="numeric" autocomplete="off" />
          </div>
          <div class="field">
            <label for="certainty">How sure the name is</label>
            <select id="certainty" name="certainty">
              <option value="certain">certain</option>
              <option value="likely">likely (cf.)</option>
              <option value="unsure">unsure (?)</option>
            </select>
          </div>
          <div class="field">
            <label for="determiner">Determiner (who named it)</label>
            <input id="determiner" name="determiner" autocomplete="off" />
          </div>
          <div class="field wide">
            <label for="remarks">Remarks</label>
            <textarea id="remarks" name="remarks" rows={2} />
          </div>
        </div>
        <div class="buttons">
          <button class="first" disabled={writing.value}>
            Record it
          </button>
          <span aria-live="polite">{added.value ?? ''}</span>
        </div>
      </form>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </section>
  );
}

const certaintyOf = (word: string) => (word === 'likely' || word === 'unsure' ? word : 'certain');

/** Today on the reader's calendar, as the field wants it. */
function today(): string {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
}
