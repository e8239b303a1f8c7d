/** Before there is a day to show: a place, then its forecast; or where one stands. */
import { useSignal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import type { KeptLists, Position } from '@tepal/notebook';
import type { ComponentChildren } from 'preact';
import { FetchButton } from './forecast/fetch-button.tsx';
import { ForecastDrop } from './forecast/forecast-drop.tsx';
import { ForecastSettings } from './forecast/forecast-settings.tsx';
import { SiteForm } from './places/site-form.tsx';

export function FirstSteps(props: {
  store: StoreName;
  lists: KeptLists;
  newAt: Position | null;
  children: ComponentChildren;
}) {
  const { store, lists, newAt, children } = props;
  const told = useSignal<string | null>(null);
  if (store === 'invented') return <h1>The invented outing’s forecast is not here.</h1>;
  const [site] = lists.sites;
  if (site === undefined) {
    return (
      <>
        <h1>Name a place, and its days are drawn here.</h1>
        <p class="faint">
          Light as hatching, wind at the flower as a line, and the hours that suit your wanted pictures
          framed. A name, a position and one word of shelter are enough.
        </p>
        {children}
        <SiteForm
          key={newAt === null ? 'new' : `${newAt.latitudeDeg}`}
          site={null}
          at={newAt}
          onDone={(words) => (told.value = words)}
        />
      </>
    );
  }
  return (
    <>
      <h1>
        {lists.sites.length === 1
          ? `${site.name} is noted. Now its forecast.`
          : `${lists.sites.length} places are noted. Now their forecasts.`}
      </h1>
      <p class="faint">It is kept on this device and read without a network from then on.</p>
      <FetchButton first />
      <details class="folded">
        <summary>Where it comes from, and what is told to get it</summary>
        <ForecastSettings />
      </details>
      <details class="folded">
        <summary>Or give a forecast file</summary>
        {lists.sites.slice(0, 12).map(({ id, name }) => (
          <ForecastDrop key={id} store="mine" siteId={id} siteName={name} />
        ))}
      </details>
      {children}
    </>
  );
}
