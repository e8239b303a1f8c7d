/** The pictures to come back for: each in a line, to be edited, taken off, or settled. */
import { useSignal } from '@preact/signals';
import type { KeptLists, WantedPicture } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import { ToldAndUndo } from '../places/told-and-undo.tsx';
import { WantedForm } from './wanted-form.tsx';
import { DROPS_MEANINGS, INSECT_MEANINGS, LIGHT_MEANINGS, STILLNESS_MEANINGS } from './wanted-of-form.ts';

/** More than this are found by typing. */
const manyWanted = 12;

export function WantedEditor({ lists }: { lists: KeptLists }) {
  const told = useSignal<string | null>(null);
  const editing = useSignal<string | null>(null);
  const sought = useSignal('');
  const all = useSignal(false);
  const open = lists.wantedPictures.filter(({ closedBy }) => closedBy === null);
  const siteName = (id: string | null) =>
    id === null ? 'any place' : (lists.sites.find((site) => site.id === id)?.name ?? 'a place off the list');
  const found = open.filter(({ title, siteId }) =>
    `${title} ${siteName(siteId)}`.toLowerCase().includes(sought.value.trim().toLowerCase()),
  );
  const shown = all.value ? found : found.slice(0, manyWanted);
  const write = async (wanted: WantedPicture, done: boolean) => {
    const fault = await writeNotebook(
      'mine',
      done ? 'wanted picture settled' : 'wanted picture taken off',
      (pen) =>
        done
          ? pen.patch('wantedPicture', wanted.id, { closedBy: 'taken' })
          : pen.remove('wantedPicture', wanted.id),
    );
    told.value = fault ?? `${wanted.title} is ${done ? 'settled' : 'off the list'}.`;
    editing.value = null;
    void workOut('mine');
  };
  return (
    <>
      <ToldAndUndo told={told} />
      {open.length > manyWanted && (
        <div class="field seek">
          <label for="seek-wanted">Find among {open.length}</label>
          <input
            id="seek-wanted"
            autocomplete="off"
            value={sought.value}
            onInput={(event) => (sought.value = event.currentTarget.value)}
          />
        </div>
      )}
      {open.length > 0 && (
        <ul class="list places-list">
          {shown.map((wanted) => (
            <li key={wanted.id}>
              <div class="place-row">
                <span class="place-name">{wanted.title}</span>
                <span class="faint small">{wishWords(wanted, siteName(wanted.siteId))}</span>
                <button
                  class="quiet"
                  aria-expanded={editing.value === wanted.id}
                  onClick={() => (editing.value = editing.value === wanted.id ? null : wanted.id)}
                >
                  {editing.value === wanted.id ? 'Close' : 'Edit'}
                  <span class="unseen"> {wanted.title}</span>
                </button>
              </div>
              {editing.value === wanted.id && (
                <div class="place-open">
                  <WantedForm
                    {...{ wanted, lists }}
                    onDone={(words) => {
                      told.value = words;
                      editing.value = null;
                    }}
                  />
                  <div class="buttons">
                    <button class="quiet" onClick={() => void write(wanted, true)}>
                      I have this picture
                    </button>
                    <button class="quiet" onClick={() => void write(wanted, false)}>
                      Take it off the list
                    </button>
                  </div>
                </div>
              )}
            </li>
          ))}
        </ul>
      )}
      {found.length > shown.length && (
        <button class="quiet" onClick={() => (all.value = true)}>
          All {found.length}
        </button>
      )}
      {editing.value === null && (
        <section aria-labelledby="add-wanted">
          <h3 id="add-wanted">{open.length === 0 ? 'A picture to come back for' : 'Another picture'}</h3>
          <WantedForm wanted={null} lists={lists} onDone={(words) => (told.value = words)} />
        </section>
      )}
    </>
  );
}

function wishWords({ light, stillness, drops, insects }: WantedPicture, where: string): string {
  return [
    where,
    LIGHT_MEANINGS[light],
    STILLNESS_MEANINGS[stillness].replace(/:.*/, ''),
    drops === 'any' ? '' : DROPS_MEANINGS[drops],
    insects === null ? '' : INSECT_MEANINGS[insects],
  ]
    .filter(Boolean)
    .join(' · ');
}
