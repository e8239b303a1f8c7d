/** The evening before: every forecast fetched, everything proven to open without a network, what is not ready said. */
import { useSignal } from '@preact/signals';
import { counted } from '../../words/amounts.ts';
import { fetchForecasts, overviewOf } from '../compute/days-here.ts';
import { proveForecasts, proveNotebook, provePages } from './prove-offline.ts';

interface Packed {
  readonly notReady: readonly string[];
  readonly ready: readonly string[];
}

export function Pack() {
  const packing = useSignal<string | null>(null);
  const packed = useSignal<Packed | null>(null);
  const pack = async () => {
    packed.value = null;
    packing.value = 'Fetching the forecasts.';
    const fetched = await fetchForecasts();
    packing.value = 'Reading what this device keeps.';
    const overview = overviewOf('mine').peek();
    const here = overview.at === 'here' ? overview.value : null;
    const [pages, notebook] = [await provePages(), await proveNotebook('mine')];
    const forecasts =
      here === null ? ['The days could not be worked out.'] : proveForecasts(here, Date.now());
    // A site that could not be fetched but has a good forecast all the same is ready.
    const unfetched = fetched.sites.length === 0 ? fetched.notReady : [];
    const notReady = [...new Set([...unfetched, ...forecasts, ...pages, ...notebook])];
    const sites = here?.sites.length ?? 0;
    packed.value = {
      notReady,
      ready: [
        ...(forecasts.length === 0
          ? [`The forecasts of ${counted(sites, 'place')} reach past tomorrow.`]
          : []),
        ...(pages.length === 0 ? ['Days and Set-up open without a network.'] : []),
        ...(notebook.length === 0 ? ['The notebook lies on this device and opens.'] : []),
      ],
    };
    packing.value = null;
  };
  const { value: done } = packed;
  return (
    <div class="pack">
      <p class="faint">
        Fetches every place’s forecast and proves that the pages and the notebook open without a network.
      </p>
      <div class="buttons">
        <button class="first" disabled={packing.value !== null} onClick={() => void pack()}>
          Pack for tomorrow
        </button>
        <span aria-live="polite" class="faint">
          {packing.value}
        </span>
      </div>
      {done !== null && (
        <div role="status">
          <h3>{done.notReady.length === 0 ? 'Everything is packed.' : 'Not ready yet'}</h3>
          <ul class="list plain">
            {done.notReady.map((words) => (
              <li key={words} class="not-ready">
                {words}
              </li>
            ))}
            {done.ready.map((words) => (
              <li key={words} class="faint">
                Ready: {words}
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
