/** A picture to come back for, new or edited; its subject may be added with it. */
import { useSignal } from '@preact/signals';
import type { KeptLists, WantedPicture } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import { textOf } from '../places/typed-number.ts';
import { ChoiceRow } from './choice-row.tsx';
import { SubjectFields } from './subject-fields.tsx';
import {
  DROPS_MEANINGS,
  INSECT_MEANINGS,
  LIGHT_MEANINGS,
  STILLNESS_MEANINGS,
  subjectOfForm,
  wantedOfForm,
} from './wanted-of-form.ts';

export function WantedForm(props: {
  wanted: WantedPicture | null;
  lists: KeptLists;
  onDone: (told: string) => void;
}) {
  const { wanted, lists, onDone } = props;
  const fault = useSignal<string | null>(null);
  const writing = useSignal(false);
  const times = useSignal(0);
  const subjectId = useSignal(wanted?.subjectId ?? lists.subjects[0]?.id ?? '');
  const subject = lists.subjects.find(({ id }) => id === subjectId.value) ?? null;
  const nameOf = (one: (typeof lists.subjects)[number]) => one.commonNames['en'] ?? one.scientificName;

  const write = async (form: HTMLFormElement) => {
    const data = new FormData(form);
    const id = subject?.id ?? crypto.randomUUID();
    const read = subjectOfForm(data, id, subject);
    if (!read.ok) {
      fault.value = read.message;
      return;
    }
    const picture = wantedOfForm(data, {
      id: wanted?.id ?? crypto.randomUUID(),
      subjectId: id,
      before: wanted,
    });
    const titled = textOf(data, 'title') === '' ? { ...picture, title: nameOf(read.value) } : picture;
    writing.value = true;
    const message = wanted === null ? 'wanted picture added' : 'wanted picture changed';
    fault.value = await writeNotebook('mine', message, (pen) => {
      pen.put('subject', read.value);
      pen.put('wantedPicture', titled);
    });
    writing.value = false;
    if (fault.value !== null) return;
    times.value++;
    void workOut('mine');
    onDone(`${titled.title} is ${wanted === null ? 'noted' : 'changed'}.`);
  };

  return (
    <form
      key={times.value}
      onSubmit={(event) => {
        event.preventDefault();
        void write(event.currentTarget);
      }}
    >
      <div class="fields">
        {lists.subjects.length > 0 && (
          <div class="field">
            <label for="wanted-subject">Subject</label>
            <select
              id="wanted-subject"
              value={subjectId.value}
              onChange={(event) => (subjectId.value = event.currentTarget.value)}
            >
              {lists.subjects.map((one) => (
                <option key={one.id} value={one.id}>
                  {nameOf(one)}
                </option>
              ))}
              <option value="">another subject</option>
            </select>
          </div>
        )}
        <div class="field">
          <label for="wanted-title">What the picture is called</label>
          <input
            id="wanted-title"
            name="title"
            autocomplete="off"
            placeholder="as its subject, if left empty"
            defaultValue={wanted?.title ?? ''}
          />
        </div>
        <div class="field">
          <label for="wanted-site">Where</label>
          <select id="wanted-site" name="site">
            <option value="">at any of my places</option>
            {lists.sites.map(({ id, name }) => (
              <option key={id} value={id} selected={id === wanted?.siteId}>
                {name}
              </option>
            ))}
          </select>
        </div>
        <div class="field">
          <label for="wanted-framing">What is in the frame</label>
          <input id="wanted-framing" name="framing" autocomplete="off" defaultValue={wanted?.framing ?? ''} />
        </div>
      </div>
      <ChoiceRow name="light" legend="Light" choices={LIGHT_MEANINGS} now={wanted?.light ?? 'soft'} />
      <ChoiceRow
        name="stillness"
        legend="The plant"
        choices={STILLNESS_MEANINGS}
        now={wanted?.stillness ?? 'stirring'}
      />
      <ChoiceRow name="drops" legend="Drops" choices={DROPS_MEANINGS} now={wanted?.drops ?? 'any'} />
      <ChoiceRow name="insects" legend="Insects" choices={INSECT_MEANINGS} now={wanted?.insects ?? ''} />
      <details class="more" open={subject === null} key={subjectId.value}>
        <summary>{subject === null ? 'The subject' : `About ${nameOf(subject)}`}</summary>
        <SubjectFields subject={subject} />
      </details>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      <div class="buttons">
        <button class="first" disabled={writing.value}>
          {wanted === null ? 'Note the picture' : 'Keep the changes'}
        </button>
      </div>
    </form>
  );
}
