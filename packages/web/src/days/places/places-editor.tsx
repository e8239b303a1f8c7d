/** The places one goes to: each with its forecast, to be edited or taken off; and a new one. */
import { useSignal } from '@preact/signals';
import type { Position, Site } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import type { Overview } from '../compute/worker-messages.ts';
import { ForecastDrop } from '../forecast/forecast-drop.tsx';
import { SiteForm } from './site-form.tsx';
import { SHELTER_MEANINGS } from './site-of-form.ts';
import { ToldAndUndo } from './told-and-undo.tsx';

/** More than this are found by typing, or asked for. */
const manySites = 12;

export function PlacesEditor(props: {
  sites: readonly Site[];
  overview: Overview | null;
  /** Where a new place is, when it was asked for elsewhere on the page. */
  newAt: Position | null;
}) {
  const { sites, overview, newAt } = props;
  const told = useSignal<string | null>(null);
  const editing = useSignal<string | null>(null);
  const sought = useSignal('');
  const all = useSignal(false);
  const found = sites.filter(({ name }) => name.toLowerCase().includes(sought.value.trim().toLowerCase()));
  const shown = all.value ? found : found.slice(0, manySites);
  const remove = async ({ id, name }: Site) => {
    const fault = await writeNotebook('mine', 'site taken off', (pen) => pen.remove('site', id));
    told.value = fault ?? `${name} is off the list; what was noted there stays.`;
    editing.value = null;
    void workOut('mine');
  };
  const summaryOf = (id: string) => overview?.sites.find(({ siteId }) => siteId === id) ?? null;
  return (
    <>
      <ToldAndUndo told={told} />
      {sites.length > manySites && (
        <div class="field seek">
          <label for="seek-site">Find among {sites.length}</label>
          <input
            id="seek-site"
            autocomplete="off"
            value={sought.value}
            onInput={(event) => (sought.value = event.currentTarget.value)}
          />
        </div>
      )}
      {sites.length > 0 && (
        <ul class="list places-list">
          {shown.map((site) => (
            <li key={site.id}>
              <div class="place-row">
                <span class="place-name">{site.name}</span>
                <span class="faint small">
                  {[
                    site.shelter === null ? 'shelter not said' : SHELTER_MEANINGS[site.shelter],
                    summaryOf(site.id)?.forecast === null ? 'no forecast yet' : '',
                  ]
                    .filter(Boolean)
                    .join(' · ')}
                </span>
                <button
                  class="quiet"
                  aria-expanded={editing.value === site.id}
                  onClick={() => (editing.value = editing.value === site.id ? null : site.id)}
                >
                  {editing.value === site.id ? 'Close' : 'Edit'}
                  <span class="unseen"> {site.name}</span>
                </button>
              </div>
              {editing.value === site.id && (
                <div class="place-open">
                  <SiteForm
                    site={site}
                    onDone={(words) => {
                      told.value = words;
                      editing.value = null;
                    }}
                  />
                  <ForecastDrop store="mine" siteId={site.id} siteName={site.name} />
                  <button class="quiet" onClick={() => void remove(site)}>
                    Take {site.name} off the list
                  </button>
                </div>
              )}
            </li>
          ))}
        </ul>
      )}
      {found.length > shown.length && (
        <button class="quiet" onClick={() => (all.value = true)}>
          All {found.length}
        </button>
      )}
      {editing.value === null && (
        <section aria-labelledby="add-site">
          <h3 id="add-site">{sites.length === 0 ? 'A place' : 'Add a place'}</h3>
          <SiteForm
            key={newAt === null ? 'new' : `${newAt.latitudeDeg}`}
            site={null}
            at={newAt}
            onDone={(words) => (told.value = words)}
          />
        </section>
      )}
    </>
  );
}
