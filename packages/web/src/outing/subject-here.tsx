/** Which plant or insect of the notebook this is; its depth, stem and sway come with it. */
import type { StoreName } from '@tepal/formats';
import { notebookOf } from '../field/notebook.ts';
import { inputsOfSubject, subjectName } from '../set-up/question/from-notebook.ts';
import type { SetUpInputs } from '../set-up/question/inputs.ts';
import { Choice } from '../set-up/controls/stepper.tsx';

interface SubjectProps {
  readonly store: StoreName;
  readonly inputs: SetUpInputs;
  readonly onChange: (change: Partial<SetUpInputs>) => void;
}

export function SubjectHere({ store, inputs, onChange }: SubjectProps) {
  const open = notebookOf(store).value;
  const subjects = open === null ? [] : open.room.list(open.notebook, 'subject');
  if (subjects.length === 0) return null;
  return (
    <Choice
      name="What it is"
      value={inputs.subjectId}
      words={[['', 'not said'], ...subjects.map((one): [string, string] => [one.id, subjectName(one)])]}
      onChoose={(id) => {
        const subject = subjects.find((one) => one.id === id);
        onChange(subject === undefined ? { subjectId: '' } : inputsOfSubject(subject));
      }}
    />
  );
}
