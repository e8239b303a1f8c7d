/** Keeping: the backup in one press, putting one back, and the library held against the disk. */
import { useSignal } from '@preact/signals';
import { engineOf } from '../engine/engine.ts';
import { askToKeep, keeping } from '../field/kept.ts';
import { exchange, readNotebook } from '../field/notebook.ts';
import { atDesk } from '../field/peer.ts';
import { chosenBytes, saveFile } from '../records/save-file.ts';
import { Lines } from '../records/names.tsx';
import { counted } from '../words/amounts.ts';
import { useEffect } from 'preact/hooks';
import { keepingWords } from './phone-side.tsx';

/** A notebook that was not exchanged for so long is worth a reminder [ms]. */
const remindAfterMs = 7 * 86_400_000;

export function Keeping() {
  useEffect(() => {
    void askToKeep();
  }, []);
  const { lastMs, writtenSince } = exchange.value;
  const late = writtenSince && (lastMs === null || Date.now() - lastMs > remindAfterMs);
  return (
    <section aria-labelledby="keeping">
      <h2 id="keeping">Keeping</h2>
      {atDesk ? <AtDesk /> : null}
      {atDesk && <p class="faint">In this browser: {keepingWords[keeping.value]}</p>}
      {late && (
        <p class="told">
          Something was written and not exchanged yet: meet the other device, or save a file.
        </p>
      )}
    </section>
  );
}

function AtDesk() {
  const said = useSignal<readonly string[]>([]);
  const engine = engineOf('mine');
  const backup = async () => {
    const answer = await engine.backup();
    if (!answer.ok) {
      said.value = [answer.fault.message];
      return;
    }
    const name = `tepal-backup-${new Date().toISOString().slice(0, 10)}.zip`;
    saveFile(name, answer.value, 'application/zip');
    said.value = [
      `${name} is in your downloads. It holds every exact place: keep it where only you reach it.`,
    ];
  };
  const putBack = async (input: HTMLInputElement) => {
    const given = await chosenBytes(input);
    if (given === null) return;
    const answer = await engine.putBack(given.bytes);
    if (answer.ok) await readNotebook('mine');
    said.value = answer.ok
      ? [
          `The backup of ${new Date(answer.value.madeAt).toLocaleString('en-GB')} is put back: the notebook merged, ${counted(answer.value.putBack, 'choice')} filled in, ${counted(answer.value.kept, 'choice')} left as they are here.`,
        ]
      : [answer.fault.message];
  };
  const check = async () => {
    const answer = await engine.checkLibrary();
    if (!answer.ok) {
      said.value = [answer.fault.message];
      return;
    }
    const { frames, missing, changed, orphaned } = answer.value;
    const whole = missing.length + changed.length + orphaned.length === 0;
    said.value = [
      whole
        ? `All is well: ${counted(frames, 'frame')}, each where it was measured.`
        : `${counted(frames, 'frame')} checked.`,
      ...missing.map((line) => `Missing: ${line}`),
      ...changed.map((line) => `Changed: ${line}`),
      ...orphaned.map((line) => `Belongs to nothing: ${line}`),
    ];
  };
  return (
    <>
      <p class="faint">
        One file holds the notebook with its history and everything you chose, in open formats. Photographs
        are not in it.
      </p>
      <div class="buttons">
        <button onClick={() => void backup()}>Save a backup</button>
        <label class="button">
          Put a backup back
          <input
            class="unseen"
            type="file"
            accept=".zip"
            onChange={(event) => void putBack(event.currentTarget)}
          />
        </label>
        <button onClick={() => void check()}>Check the library</button>
      </div>
      <Lines of={said.value} />
    </>
  );
}
