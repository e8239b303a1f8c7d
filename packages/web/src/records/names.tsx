/** Free names against a checklist that the photographer gives once; it stays on this device. */
import { useSignal } from '@preact/signals';
import { readChecklist } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { keep, kept } from '../field/kept.ts';
import { reworkNotebook, type OpenNotebook } from '../field/notebook.ts';
import { counted } from '../words/amounts.ts';
import { chosenBytes } from './save-file.ts';

interface KeptChecklist {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export function Names({ open }: { open: OpenNotebook }) {
  const checklist = useSignal<KeptChecklist | null>(null);
  const said = useSignal<readonly string[]>([]);
  useEffect(() => {
    void kept<KeptChecklist>('checklist')
      .then((found) => (checklist.value = found ?? null))
      .catch(() => undefined);
  }, []);
  const free = open.room.list(open.notebook, 'record').filter(({ subjectId }) => subjectId === null).length;
  const match = async ({ name, bytes }: KeptChecklist) => {
    const read = readChecklist(bytes);
    if (!read.ok) {
      said.value = [`${name}: ${read.fault.message}`];
      return;
    }
    const lines: string[] = [`${name}: ${counted(read.value.names.length, 'name')}.`];
    const fault = await reworkNotebook('mine', ({ room, notebook }) => {
      const matched = room.matchRecords(notebook, room.indexNames(read.value.names), {
        language: navigator.language,
        newId: () => `s-${crypto.randomUUID()}`,
        note: { message: 'names matched to a checklist', timeMs: Date.now() },
      });
      for (const { written, found, subject } of matched.names) {
        const perhaps =
          found.kind === 'near'
            ? `perhaps ${found.names.map((one) => one.scientificName).join(', or ')}`
            : 'not in it';
        lines.push(`${written}: ${subject ?? perhaps}.`);
      }
      return matched.notebook;
    });
    const told = [...read.warnings, ...read.value.notUnderstood].map((line) => `Not understood: ${line}`);
    said.value = fault === null ? [...lines, ...told] : [fault];
  };
  const give = async (input: HTMLInputElement) => {
    const given = await chosenBytes(input);
    if (given === null) return;
    checklist.value = given;
    await match(given);
    await keep('checklist', given).catch(() => undefined);
  };
  const here = checklist.value;
  return (
    <section aria-labelledby="names">
      <h2 id="names">Names</h2>
      <p class="faint">
        {free === 0
          ? 'Every record has its species.'
          : `${counted(free, 'record')} with a name as you wrote it.`}{' '}
        {here === null
          ? 'Give a checklist, a Darwin Core archive or a table of taxa, and they are matched to it.'
          : `The checklist ${here.name} is kept on this device.`}
      </p>
      <div class="buttons">
        {here !== null && (
          <button disabled={free === 0} onClick={() => void match(here)}>
            Match the names
          </button>
        )}
        <label class="button">
          {here === null ? 'Give a checklist' : 'Give another checklist'}
          <input class="unseen" type="file" onChange={(event) => void give(event.currentTarget)} />
        </label>
      </div>
      <Lines of={said.value} />
    </section>
  );
}

/** What was found, line by line. */
export function Lines({ of }: { of: readonly string[] }) {
  return (
    <ul class="plain" aria-live="polite">
      {of.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
