/** Asking for newer forecasts, and what came of it. */
import { useSignal } from '@preact/signals';
import { fetchForecasts } from '../compute/days-here.ts';

export function FetchButton({ first }: { first: boolean }) {
  const fetching = useSignal(false);
  const notReady = useSignal<readonly string[]>([]);
  const ask = async () => {
    fetching.value = true;
    notReady.value = (await fetchForecasts()).notReady;
    fetching.value = false;
  };
  return (
    <div>
      <div class="buttons">
        <button class={first ? 'first' : ''} disabled={fetching.value} onClick={() => void ask()}>
          {first ? 'Fetch the forecast' : 'Fetch newer forecasts'}
        </button>
        <span aria-live="polite" class="faint">
          {fetching.value ? 'Asking the service.' : ''}
        </span>
      </div>
      {notReady.value.slice(0, 6).map((words) => (
        <p class="told" key={words}>
          {words}
        </p>
      ))}
    </div>
  );
}
