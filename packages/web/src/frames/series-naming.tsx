/** Naming a series: what it is and shows; then its record, the wanted picture it settles, the views it still lacks. */
import { useComputed, useSignal } from '@preact/signals';
import type { LibrarySeries, StoreName } from '@tepal/formats';
import { addressOf } from '../app/address.ts';
import { engineOf } from '../engine/engine.ts';
import { notebookOf, readNotebook, writeNotebook } from '../field/notebook.ts';
import type { Choosing } from './choosing.ts';

/** In the words of the engine; the order of a page that is worked through. */
const views = [
  'whole plant',
  'flower from the front',
  'flower from the side',
  'leaf',
  'stem base',
  'habitat',
];

interface NamingProps {
  readonly store: StoreName;
  readonly series: LibrarySeries;
  readonly choosing: Choosing;
}

/** The frames that show it: those kept, else the best. */
export function evidenceOf(series: LibrarySeries, choosing: Choosing): readonly string[] {
  const kept = (choosing.frames.value?.frames ?? []).filter(
    (frame) => frame.series === series.id && frame.decision === 'keep',
  );
  return kept.length > 0 ? kept.map(({ id }) => id) : [series.bestId];
}

export const recordAddress = (store: StoreName, series: LibrarySeries, choosing: Choosing): string =>
  addressOf(store, 'records', {
    about: series.name,
    series: series.id,
    evidence: evidenceOf(series, choosing).join(','),
  });

export function NamingForm({ store, series, choosing, done }: NamingProps & { done: () => void }) {
  const name = useSignal(series.named ? series.name : '');
  const shows = useSignal(series.shows ?? '');
  const save = async () => {
    const naming = { name: name.value.trim(), shows: shows.value === '' ? null : shows.value };
    const engine = engineOf(store);
    const answer = await engine.nameAndShow(series.id, naming);
    choosing.fault.value = answer.ok ? null : answer.fault.message;
    if (!answer.ok) return;
    // Another series of the same name may lack less from now on.
    const all = await engine.frames();
    if (all.ok) choosing.frames.value = all.value;
    void readNotebook(store);
    done();
  };
  return (
    <form
      class="naming"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <input
        aria-label={`Name for ${series.name}`}
        placeholder="What it is"
        required
        value={name.value}
        autofocus
        onInput={(event) => (name.value = event.currentTarget.value)}
      />
      <select
        aria-label="What of it is shown"
        value={shows.value}
        onChange={(event) => (shows.value = event.currentTarget.value)}
      >
        <option value="">shows: not said</option>
        {views.map((view) => (
          <option key={view}>{view}</option>
        ))}
      </select>
      <button>Save the name</button>
    </form>
  );
}

/** What follows from a name: shown in the row of a series that was just named. */
export function AfterNaming({ store, series, choosing }: NamingProps) {
  const told = useSignal<string | null>(null);
  const wanted = useComputed(() => {
    const open = notebookOf(store).value;
    if (open === null) return [];
    const { room, notebook } = open;
    const name = series.name.toLowerCase();
    return room.list(notebook, 'wantedPicture').filter(({ closedBy, subjectId, title }) => {
      const subject = room.find(notebook, 'subject', subjectId);
      const names = subject === null ? [] : [subject.scientificName, ...Object.values(subject.commonNames)];
      return closedBy === null && [title, ...names].some((known) => known.toLowerCase().includes(name));
    });
  }).value;
  const settle = async (id: string, title: string) => {
    const [hash = 'taken'] = evidenceOf(series, choosing);
    const fault = await writeNotebook(store, 'wanted picture settled', (pen) =>
      pen.patch('wantedPicture', id, { closedBy: hash }),
    );
    told.value = fault ?? `${title} is settled.`;
  };
  return (
    <div class="after-naming small">
      <p>
        <a href={recordAddress(store, series, choosing)}>Draft the record of {series.name}</a>
      </p>
      {wanted.map(({ id, title }) => (
        <p key={id}>
          You wanted “{title}”.{' '}
          <button class="quiet" onClick={() => void settle(id, title)}>
            This is it
          </button>
        </p>
      ))}
      {series.lacks.length > 0 && (
        <p>
          To be named with certainty it may still need: {series.lacks.join(', ')}. Common practice, no source.
        </p>
      )}
      <p role="status">{told.value}</p>
    </div>
  );
}
