/** The places one goes to: adding one, and giving each its forecast. */
import { useComputed, useSignal } from '@preact/signals';
import type { DaysAnswer, StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { notebookOf, readNotebook } from '../../field/notebook.ts';
import { ForecastDrop } from './forecast-drop.tsx';
import { SiteForm } from './site-form.tsx';

interface PlacesProps {
  readonly store: StoreName;
  readonly onDays: (days: DaysAnswer) => void;
}

export function Places({ store, onDays, open = false }: PlacesProps & { open?: boolean }) {
  const fault = useSignal<string | null>(null);
  const added = useSignal<{ id: string; name: string } | null>(null);
  useEffect(() => {
    void readNotebook(store).then((told) => (fault.value = told));
  }, [store]);
  const sites = useComputed(() => {
    const found = notebookOf(store).value;
    return found === null ? [] : found.room.list(found.notebook, 'site');
  }).value;
  const forms = (
    <div class="sites-forms">
      <section aria-labelledby="add-site">
        <h2 id="add-site">{sites.length === 0 ? '1. A place' : 'Add a place'}</h2>
        {added.value !== null && (
          <p aria-live="polite">{added.value.name} is noted. Now give it a forecast.</p>
        )}
        <SiteForm store={store} onAdded={(site) => (added.value = site)} />
      </section>
      <section aria-labelledby="give-forecast">
        <h2 id="give-forecast">{sites.length === 0 ? '2. Its forecast' : 'Give a forecast'}</h2>
        {sites.length === 0 && (
          <p class="faint">
            Once the place is noted, drop a forecast file for it here. It stays on this computer and is read
            without a network.
          </p>
        )}
        {sites.map(({ id, name }) => (
          <ForecastDrop key={id} store={store} siteId={id} siteName={name} onDays={onDays} />
        ))}
      </section>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </div>
  );
  if (open) return forms;
  return (
    <details class="places">
      <summary>Places and forecasts</summary>
      {forms}
    </details>
  );
}

export function NoDays({ store, onDays, faults }: PlacesProps & { faults: readonly string[] }) {
  return (
    <>
      <h1>
        {store === 'mine'
          ? 'Name a place and give it a forecast.'
          : 'The invented outing’s forecast is not here.'}
      </h1>
      <p class="faint">
        Its hours are then drawn here: light as hatching, wind at the flower as a line, and the hours that
        suit your wanted pictures framed.
      </p>
      {faults.map((fault) => (
        <p class="told" key={fault}>
          {fault}
        </p>
      ))}
      {store === 'mine' && <Places store={store} onDays={onDays} open />}
    </>
  );
}
