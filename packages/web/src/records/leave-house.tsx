/** What leaves: an archive or a recorders' table for anybody; exact places to one named person, each time confirmed. */
import { useSignal } from '@preact/signals';
import { writeNotebook, type OpenNotebook } from '../field/notebook.ts';
import { counted } from '../words/amounts.ts';
import { Lines } from './names.tsx';
import { saveFile } from './save-file.ts';

type As = 'archive' | 'table';
const forms = {
  archive: { file: 'records.zip', type: 'application/zip', what: 'Darwin Core archive' },
  table: { file: 'records.csv', type: 'text/csv', what: 'recorders’ table' },
} as const;

export function LeaveHouse({ open }: { open: OpenNotebook }) {
  const said = useSignal<readonly string[]>([]);
  const { room, notebook } = open;
  const count = room.list(notebook, 'record').length;
  const save = (as: As) => {
    const { bytes, withheld, toAsk } = room.exportRecords(notebook, {
      ...{ wish: 'coarse', as, language: navigator.language, nowMs: Date.now() },
    });
    saveFile(forms[as].file, bytes, forms[as].type);
    said.value = [
      `The ${as} is in your downloads.`,
      ...withheld.map((line) => `Left out: ${line}`),
      ...toAsk.map((name) => `${name} counts as medium until you say how sensitive it is.`),
    ];
  };
  return (
    <section aria-labelledby="export">
      <h2 id="export">Leave the house</h2>
      <p class="faint">
        {counted(count, 'record')}, each place as coarse as its line above says; names of sites stay here. The
        table has grid references and determiners, as recorders ask.
      </p>
      <div class="buttons">
        <button onClick={() => save('archive')} disabled={count === 0}>
          Export the archive
        </button>
        <button onClick={() => save('table')} disabled={count === 0}>
          Export the recorders’ table
        </button>
      </div>
      <Lines of={said.value} />
      <Confidential open={open} count={count} />
      <Sendings open={open} />
    </section>
  );
}

function Confidential({ open: { room, notebook }, count }: { open: OpenNotebook; count: number }) {
  const said = useSignal<string | null>(null);
  const send = async (form: HTMLFormElement) => {
    const data = new FormData(form);
    const text = (name: string) => String(data.get(name) ?? '').trim();
    const [to, again] = [text('to'), text('again')];
    if (to === '' || to !== again) {
      said.value = `Exact places would leave the house. Type the recipient twice, alike, to confirm it this time.`;
      return;
    }
    const as: As = text('as') === 'archive' ? 'archive' : 'table';
    const { file, type, what } = forms[as];
    const sent = room.exportRecords(notebook, {
      ...{ wish: 'exact', as, language: navigator.language, nowMs: Date.now() },
      audience: { confidential: to, confirmed: true },
    });
    const digest = await crypto.subtle.digest('SHA-256', new Uint8Array(sent.bytes));
    const hash = [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    // Into the log first: nothing leaves that it does not know of.
    const fault = await writeNotebook('mine', `sent to ${to}`, (pen) =>
      pen.put('sending', {
        id: `sent-${crypto.randomUUID()}`,
        at: new Date().toISOString(),
        ...{ to, what, file: `confidential-${file}`, hash, notes: '' },
        recordIds: [...sent.recordIds],
        places: sent.exactPlaces,
      }),
    );
    said.value =
      fault ??
      `For ${to} alone, ${counted(sent.exactPlaces, 'exact place')}: in your downloads, and in the log.`;
    if (fault !== null) return;
    saveFile(`confidential-${file}`, sent.bytes, type);
    form.reset();
  };
  return (
    <details class="part">
      <summary>
        <h3>With exact places, to one person</h3>
      </summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void send(event.currentTarget);
        }}
      >
        <div class="fields">
          <div class="field">
            <label for="to">For whom</label>
            <input id="to" name="to" autocomplete="off" />
          </div>
          <div class="field">
            <label for="again">The same name once more, to confirm</label>
            <input id="again" name="again" autocomplete="off" />
          </div>
          <div class="field">
            <label for="as">As</label>
            <select id="as" name="as">
              <option value="table">recorders’ table</option>
              <option value="archive">Darwin Core archive</option>
            </select>
          </div>
        </div>
        <div class="buttons">
          <button disabled={count === 0}>Export with exact places</button>
        </div>
      </form>
      <p aria-live="polite">{said.value}</p>
    </details>
  );
}

function Sendings({ open: { room, notebook } }: { open: OpenNotebook }) {
  const log = room.list(notebook, 'sending').toSorted((a, b) => (a.at < b.at ? 1 : -1));
  if (log.length === 0) return <p class="faint">Nothing was ever sent with exact places.</p>;
  return (
    <>
      <h3>What left with exact places</h3>
      <ul class="list" aria-label="Sendings">
        {log.map(({ id, at, to, what, places, recordIds }) => (
          <li key={id}>
            {new Date(at).toLocaleString('en-GB')}, to {to}: {what}, {counted(recordIds.length, 'record')},{' '}
            {counted(places, 'exact place')}
          </li>
        ))}
      </ul>
    </>
  );
}
