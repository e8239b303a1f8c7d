/** What the days hang on, folded away below them: places, wanted pictures, free hours, forecasts, the evening before. */
import type { KeptLists, Position } from '@tepal/notebook';
import { counted } from '../words/amounts.ts';
import type { Overview } from './compute/worker-messages.ts';
import { ForecastSettings } from './forecast/forecast-settings.tsx';
import { FreeHoursEditor } from './free/free-hours.tsx';
import { Pack } from './pack/pack.tsx';
import { PlacesEditor } from './places/places-editor.tsx';
import { WantedEditor } from './wanted/wanted-editor.tsx';

export function KeptBelow(props: { lists: KeptLists; overview: Overview; newAt: Position | null }) {
  const { lists, overview, newAt } = props;
  const open = lists.wantedPictures.filter(({ closedBy }) => closedBy === null).length;
  return (
    <div class="kept-below">
      <details>
        <summary>The evening before: pack</summary>
        <Pack />
      </details>
      <details>
        <summary>Wanted pictures{open === 0 ? '' : `: ${open}`}</summary>
        <WantedEditor lists={lists} />
      </details>
      <details id="kept-places" class="places" open={newAt !== null}>
        <summary>Places and forecasts: {counted(lists.sites.length, 'place')}</summary>
        <PlacesEditor sites={lists.sites} {...{ overview, newAt }} />
      </details>
      <details>
        <summary>My free hours{lists.freeHours.length === 0 ? ': any time' : ''}</summary>
        <FreeHoursEditor lists={lists} />
      </details>
      <details>
        <summary>Where forecasts come from</summary>
        <ForecastSettings />
      </details>
    </div>
  );
}
