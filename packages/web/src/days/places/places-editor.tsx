/** The places one goes to: each with its forecast, to be edited or taken off; and a new one. */
import { useSignal } from '@preact/signals';
import type { Position, Site } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import type { Overview } from '../compute/worker-messages.ts';
import { ForecastDrop } from '../forecast/forecast-drop.tsx';
import { KeptList } from './kept-list.tsx';
import { SiteForm } from './site-form.tsx';
import { SHELTER_MEANINGS } from './site-of-form.ts';
import { ToldAndUndo } from './told-and-undo.tsx';

export function PlacesEditor(props: {
  sites: readonly Site[];
  overview: Overview | null;
  /** Where a new place is, when it was asked for elsewhere on the page. */
  newAt: Position | null;
}) {
  const { sites, overview, newAt } = props;
  const told = useSignal<string | null>(null);
  const editing = useSignal<string | null>(null);
  const remove = async ({ id, name }: Site) => {
    const fault = await writeNotebook('mine', 'site taken off', (pen) => pen.remove('site', id));
    told.value = fault ?? `${name} is off the list; what was noted there stays.`;
    editing.value = null;
    void workOut('mine');
  };
  const aboutSite = ({ id, shelter }: Site) => {
    const known = overview?.sites.find(({ siteId }) => siteId === id)?.forecast ?? null;
    const words = shelter === null ? 'shelter not said' : SHELTER_MEANINGS[shelter];
    return known === null ? `${words} · no forecast yet` : words;
  };
  return (
    <>
      <ToldAndUndo told={told} />
      <KeptList
        things={sites}
        editing={editing}
        nameOf={({ name }) => name}
        aboutOf={aboutSite}
        open={(site) => (
          <>
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
          </>
        )}
      />
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
