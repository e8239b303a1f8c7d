/** Records in, from an archive or a table, with what was not understood. */
import { useSignal } from '@preact/signals';
import { reworkNotebook } from '../field/notebook.ts';
import { counted } from '../words/amounts.ts';
import { Lines } from './names.tsx';
import { chosenBytes } from './save-file.ts';

export function TakeIn() {
  const said = useSignal<readonly string[]>([]);
  const take = async (input: HTMLInputElement) => {
    const given = await chosenBytes(input);
    if (given === null) return;
    let lines: readonly string[] = [];
    const fault = await reworkNotebook('mine', ({ room, notebook }) => {
      const read = room.importRecords(notebook, given.bytes, {
        file: given.name,
        nowMs: Date.now(),
        newId: () => `r-${crypto.randomUUID()}`,
      });
      if (!read.ok) {
        lines = [`${given.name}: ${read.fault.message}`];
        return notebook;
      }
      const { occurrences, notUnderstood } = read.value;
      lines = [
        `${given.name}: ${counted(occurrences, 'record')} taken in.`,
        ...(notUnderstood.length === 0 ? ['All of it was understood.'] : []),
        ...notUnderstood.map((line) => `Not understood: ${line}`),
      ];
      return read.value.notebook;
    });
    said.value = fault === null ? lines : [fault];
  };
  return (
    <section aria-labelledby="take-in">
      <h2 id="take-in">Records from elsewhere</h2>
      <p class="faint">
        A Darwin Core archive or a table (CSV). What has no place here is kept as it came, and named below.
      </p>
      <div class="buttons">
        <label class="button">
          Take records in
          <input
            class="unseen"
            type="file"
            accept=".zip,.csv,.txt"
            onChange={(event) => void take(event.currentTarget)}
          />
        </label>
      </div>
      <Lines of={said.value} />
    </section>
  );
}
