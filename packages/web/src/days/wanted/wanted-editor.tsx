/** The pictures to come back for: each in a line, to be edited, taken off, or settled. */
import { useSignal } from '@preact/signals';
import type { KeptLists, WantedPicture } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import { KeptList } from '../places/kept-list.tsx';
import { ToldAndUndo } from '../places/told-and-undo.tsx';
import { WantedForm } from './wanted-form.tsx';
import { DROPS_MEANINGS, INSECT_MEANINGS, LIGHT_MEANINGS, STILLNESS_MEANINGS } from './wanted-of-form.ts';

export function WantedEditor({ lists }: { lists: KeptLists }) {
  const told = useSignal<string | null>(null);
  const editing = useSignal<string | null>(null);
  const open = lists.wantedPictures.filter(({ closedBy }) => closedBy === null);
  const siteName = (id: string | null) =>
    id === null ? 'any place' : (lists.sites.find((site) => site.id === id)?.name ?? 'a place off the list');
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
      <KeptList
        things={open}
        editing={editing}
        nameOf={({ title }) => title}
        aboutOf={(wanted) => wishWords(wanted, siteName(wanted.siteId))}
        open={(wanted) => (
          <>
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
          </>
        )}
      />
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
