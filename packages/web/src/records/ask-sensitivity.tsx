/** How much harm a published place would do: asked once for each species, until then it counts as medium. */
import { useSignal } from '@preact/signals';
import { writeNotebook, type OpenNotebook } from '../field/notebook.ts';

const answers = {
  none: 'none: the place may be told',
  low: 'low: a cell of 0.001°',
  medium: 'medium: a cell of 0.01°',
  high: 'high: a cell of 0.1°',
  extreme: 'extreme: no place leaves',
} as const;

export function AskSensitivity({ open: { room, notebook } }: { open: OpenNotebook }) {
  const fault = useSignal<string | null>(null);
  const asked = room.speciesToAsk(notebook);
  if (asked.length === 0) return null;
  return (
    <section aria-labelledby="sensitivity">
      <h2 id="sensitivity">Would a published place do harm?</h2>
      <p class="faint">
        No list says so for these species. It is asked once for each; until you answer, each counts as medium.
      </p>
      <ul class="list">
        {asked.map(({ id, scientificName }) => (
          <li key={id} class="field asked">
            <label for={`harm-${id}`}>
              <em>{scientificName}</em>
            </label>
            <select
              id={`harm-${id}`}
              onChange={(event) => {
                const chosen = room.SENSITIVITIES.find((one) => one === event.currentTarget.value);
                if (chosen === undefined) return;
                void writeNotebook('mine', `sensitivity of ${scientificName}`, (pen) =>
                  pen.patch('subject', id, { sensitivity: chosen }),
                ).then((told) => (fault.value = told));
              }}
            >
              <option value="">choose</option>
              {room.SENSITIVITIES.map((one) => (
                <option key={one} value={one}>
                  {answers[one]}
                </option>
              ))}
            </select>
          </li>
        ))}
      </ul>
      {fault.value !== null && <p class="told">{fault.value}</p>}
    </section>
  );
}
