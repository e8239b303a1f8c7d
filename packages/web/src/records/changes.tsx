/** The history of the notebook: every change by name, each can be taken back. */
import { useSignal } from '@preact/signals';
import { reworkNotebook, type OpenNotebook } from '../field/notebook.ts';

const shown = 20;

export function Changes({ open }: { open: OpenNotebook }) {
  const said = useSignal<string | null>(null);
  const many = useSignal(shown);
  const all = open.room.history(open.notebook).toReversed();
  const takeBack = async (hash: string, message: string) => {
    let left = 0;
    const fault = await reworkNotebook('mine', ({ room, notebook }) => {
      const undone = room.undoChange(notebook, hash, {
        message: `taken back: ${message}`,
        timeMs: Date.now(),
      });
      left = undone.left.length;
      return undone.notebook;
    });
    const rest = left === 0 ? '' : ' What was written again since stays.';
    said.value = fault ?? `“${message}” is taken back.${rest}`;
  };
  return (
    <details class="part">
      <summary>
        <h2>What was changed</h2>
      </summary>
      <p class="faint">Each change can be taken back; that is a change too, and can be taken back itself.</p>
      <p aria-live="polite">{said.value}</p>
      <ul class="list">
        {all.slice(0, many.value).map(({ hash, message, timeMs, mine }) => (
          <li key={hash} class="change">
            <span class="faint">{new Date(timeMs).toLocaleString('en-GB')}</span>
            <span>
              {message === '' ? 'begun' : message}
              {!mine && <span class="faint"> (earlier, or another device)</span>}
            </span>
            <button class="quiet" onClick={() => void takeBack(hash, message)}>
              Take back<span class="unseen"> {message}</span>
            </button>
          </li>
        ))}
      </ul>
      {all.length > many.value && <button onClick={() => (many.value += 100)}>Show earlier changes</button>}
    </details>
  );
}
