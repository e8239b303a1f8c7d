/** A record, new or changed: what, when, where, how many, how sure, with what, and the frames that show it. */
import { useComputed, useSignal } from '@preact/signals';
import type { KeptRecord } from '@tepal/notebook';
import { useEffect, useRef } from 'preact/hooks';
import { counted } from '../words/amounts.ts';
import { engineOf } from '../engine/engine.ts';
import { notebookOf, writeNotebook } from '../field/notebook.ts';

interface FormProps {
  /** The name of the series in view, when one came from there. */
  readonly about: string | null;
  /** The record that is changed; null for a new one. */
  readonly record: KeptRecord | null;
  readonly onDone?: () => void;
}

export function RecordForm({ about, record, onDone }: FormProps) {
  const fault = useSignal<string | null>(null);
  const added = useSignal<string | null>(null);
  const writing = useSignal(false);
  const evidence = useSignal<readonly string[]>(record?.evidence ?? []);
  const form = useRef<HTMLFormElement>(null);
  const key = record?.id ?? 'new';
  useEffect(() => {
    if (about !== null) void hashesOfSeries(about).then((hashes) => (evidence.value = hashes));
  }, [about]);
  const kept = useComputed(() => {
    const open = notebookOf('mine').value;
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
    const orNull = (field: string) => (text(field) === '' ? null : text(field));
    const written = {
      subjectId: subject?.id ?? null,
      verbatimName: subject === undefined ? name : (record?.verbatimName ?? null),
      siteId: orNull('site'),
      eventDate: dayOrKept(text('date'), record),
      individualCount: count === '' ? null : Number(count),
      lifeStage: orNull('stage'),
      certainty: certaintyOf(text('certainty')),
      determiner: orNull('determiner'),
      recordedBy: orNull('recorder'),
      associatedSpecies: text('with')
        .split(',')
        .map((one) => one.trim())
        .filter((one) => one !== ''),
      evidence: [...evidence.value],
      remarks: text('remarks'),
    };
    writing.value = true;
    added.value = null;
    fault.value = await writeNotebook(
      'mine',
      record === null ? `${name} recorded` : `record of ${name} changed`,
      (pen) =>
        record === null
          ? pen.put('record', {
              ...{ id: crypto.randomUUID(), outingId: null, position: null, extraTerms: {} },
              ...written,
            })
          : pen.patch('record', record.id, written),
    );
    writing.value = false;
    if (fault.value !== null) return;
    if (record === null) {
      added.value = `${name} is recorded.`;
      form.current?.reset();
      evidence.value = [];
    }
    onDone?.();
  };
  const remove = async () => {
    if (record === null) return;
    fault.value = await writeNotebook('mine', `record of ${shownName} removed`, (pen) =>
      pen.remove('record', record.id),
    );
  };

  const shownName =
    record === null
      ? (about ?? '')
      : (kept.subjects.find(({ id }) => id === record.subjectId)?.scientificName ??
        record.verbatimName ??
        '');
  return (
    <section aria-label={record === null ? 'Record a sighting' : `Change the record of ${shownName}`}>
      {record === null && <h2>Record a sighting</h2>}
      <form
        ref={form}
        onSubmit={(event) => {
          event.preventDefault();
          void add(new FormData(event.currentTarget));
        }}
      >
        <div class="fields">
          <div class="field">
            <label for={`${key}-what`}>Name, scientific or common</label>
            <input
              id={`${key}-what`}
              name="what"
              list={`${key}-known`}
              required
              autocomplete="off"
              defaultValue={shownName}
            />
            <datalist id={`${key}-known`}>
              {kept.subjects.map(({ id, scientificName, commonNames }) => (
                <option key={id} value={scientificName}>
                  {Object.values(commonNames)[0] ?? ''}
                </option>
              ))}
            </datalist>
          </div>
          <div class="field">
            <label for={`${key}-date`}>Day</label>
            <input
              id={`${key}-date`}
              name="date"
              type="date"
              required={record === null}
              defaultValue={record?.eventDate.slice(0, 10) ?? today()}
            />
          </div>
          <div class="field">
            <label for={`${key}-site`}>Place</label>
            <select id={`${key}-site`} name="site" defaultValue={record?.siteId ?? ''}>
              <option value="">not said</option>
              {kept.sites.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </div>
          <div class="field">
            <label for={`${key}-count`}>How many (may be left empty)</label>
            <input
              id={`${key}-count`}
              name="count"
              inputMode="numeric"
              autocomplete="off"
              defaultValue={record?.individualCount ?? ''}
            />
          </div>
          <div class="field">
            <label for={`${key}-certainty`}>How sure the name is</label>
            <select id={`${key}-certainty`} name="certainty" defaultValue={record?.certainty ?? 'certain'}>
              <option value="certain">certain</option>
              <option value="likely">likely (cf.)</option>
              <option value="unsure">unsure (?)</option>
            </select>
          </div>
          <div class="field">
            <label for={`${key}-determiner`}>Determiner (who named it)</label>
            <input
              id={`${key}-determiner`}
              name="determiner"
              autocomplete="off"
              defaultValue={record?.determiner ?? ''}
            />
          </div>
          <div class="field">
            <label for={`${key}-recorder`}>Recorder (who saw it)</label>
            <input
              id={`${key}-recorder`}
              name="recorder"
              autocomplete="off"
              defaultValue={record?.recordedBy ?? ''}
            />
          </div>
          <div class="field">
            <label for={`${key}-stage`}>Life stage</label>
            <input
              id={`${key}-stage`}
              name="stage"
              autocomplete="off"
              defaultValue={record?.lifeStage ?? ''}
            />
          </div>
          <div class="field">
            <label for={`${key}-with`}>With it, species by commas</label>
            <input
              id={`${key}-with`}
              name="with"
              autocomplete="off"
              defaultValue={record?.associatedSpecies.join(', ') ?? ''}
            />
          </div>
          <div class="field wide">
            <label for={`${key}-remarks`}>Remarks</label>
            <textarea id={`${key}-remarks`} name="remarks" rows={2} defaultValue={record?.remarks ?? ''} />
          </div>
        </div>
        <div class="buttons">
          <button class="first" disabled={writing.value}>
            {record === null ? 'Record it' : 'Keep the change'}
          </button>
          {record !== null && (
            <button type="button" class="quiet" onClick={() => void remove()}>
              Remove the record
            </button>
          )}
          {evidence.value.length > 0 && (
            <span class="faint">
              {counted(evidence.value.length, 'frame')} as evidence{' '}
              <button type="button" class="quiet" onClick={() => (evidence.value = [])}>
                without them
              </button>
            </span>
          )}
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

/** The frames of the series of that name, by their files' hashes; none where no engine answers. */
async function hashesOfSeries(name: string): Promise<readonly string[]> {
  const answer = await engineOf('mine').frames();
  if (!answer.ok) return [];
  const ids = answer.value.series.find((series) => series.name === name)?.frameIds ?? [];
  return ids.flatMap((id) => /^sha256:([0-9a-f]{64})$/.exec(id)?.[1] ?? []);
}

/** A record’s hour or interval stays when its day is left as it was. */
const dayOrKept = (day: string, record: KeptRecord | null): string =>
  record !== null && (day === '' || record.eventDate.startsWith(day)) ? record.eventDate : day;

const certaintyOf = (word: string): NonNullable<KeptRecord['certainty']> =>
  word === 'likely' || word === 'unsure' ? word : 'certain';

/** Today on the reader's calendar, as the field wants it. */
function today(): string {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
}
