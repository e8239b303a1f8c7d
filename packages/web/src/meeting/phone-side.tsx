/** On the phone: let in by the code of the desk; how the notebook is kept here; exchange by the network or by a file. */
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { goTo } from '../app/navigate.ts';
import { askToKeep, keeping } from '../field/kept.ts';
import { exchange, meetDesk, readNotebook } from '../field/notebook.ts';
import { pairedDesk, pairWithDesk, readPairing } from '../field/peer.ts';

/** The page that the code of the desk opens. */
export function PairHere({ code }: { code: string }) {
  const typed = useSignal(code);
  const name = useSignal('my phone');
  const fault = useSignal<string | null>(null);
  const pair = async () => {
    fault.value = await pairWithDesk(typed.value, name.value);
    if (fault.value !== null) return;
    await readNotebook('mine');
    await askToKeep();
    goTo(addressOf('mine', 'days'), { replace: true });
  };
  return (
    <>
      <h1>Let this phone keep the notebook with the desk.</h1>
      <p class="faint">
        They exchange it when both are at home. The phone has the whole notebook and needs nobody out of
        doors.
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void pair();
        }}
      >
        <div class="fields">
          <div class="field">
            <label for="meet-code">The code that the desk shows</label>
            <input
              id="meet-code"
              autocomplete="off"
              autocapitalize="characters"
              value={typed.value}
              onInput={(event) => (typed.value = event.currentTarget.value)}
            />
          </div>
          <div class="field">
            <label for="meet-name">What the desk is to call this phone</label>
            <input
              id="meet-name"
              value={name.value}
              onInput={(event) => (name.value = event.currentTarget.value)}
            />
          </div>
        </div>
        <div class="buttons">
          <button class="first">Let it in</button>
        </div>
      </form>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </>
  );
}

/** What the browser promises for what is kept. */
export const keepingWords = {
  lasting: 'The browser has promised to keep it until you delete it.',
  passing:
    'The browser may clear it when the disk is full, or when this page is not opened for a week: exchange it, or save a file.',
  unknown: 'The browser does not say how long it keeps it: exchange it, or save a file.',
} as const;

/** How the notebook stands on this device. */
export function KeptHere() {
  const fault = useSignal<string | null>(null);
  useEffect(() => {
    void readPairing();
    void askToKeep();
  }, []);
  const { lastMs, writtenSince } = exchange.value;
  const met =
    lastMs === null
      ? 'It has not met another device yet.'
      : `Last met ${new Date(lastMs).toLocaleString('en-GB')}.`;
  const exchangeNow = async () => {
    const told = await meetDesk();
    fault.value = told?.message ?? null;
  };
  return (
    <>
      <p>
        The whole notebook is on this phone. {met} {writtenSince && 'Something was written since.'}
      </p>
      <p class="faint">{keepingWords[keeping.value]}</p>
      {pairedDesk.value !== null && (
        <div class="buttons">
          <button onClick={() => void exchangeNow()}>Exchange with the desk now</button>
        </div>
      )}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </>
  );
}
