/** Giving a forecast file for a site: dropped, or chosen. */
import { useSignal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import { giveForecast } from '../compute/days-here.ts';

export function ForecastDrop(props: { store: StoreName; siteId: string; siteName: string }) {
  const { store, siteId, siteName } = props;
  const over = useSignal(false);
  const told = useSignal<string | null>(null);
  const fault = useSignal<string | null>(null);
  const give = async (file: File | undefined) => {
    if (file === undefined) return;
    told.value = 'Reading the forecast.';
    fault.value = await giveForecast(store, siteId, new Uint8Array(await file.arrayBuffer()));
    told.value = fault.value === null ? 'The forecast is taken over.' : null;
  };
  return (
    <div
      class={over.value ? 'drop over' : 'drop'}
      onDragOver={(event) => {
        event.preventDefault();
        over.value = true;
      }}
      onDragLeave={() => (over.value = false)}
      onDrop={(event) => {
        event.preventDefault();
        over.value = false;
        void give(event.dataTransfer?.files[0]);
      }}
    >
      <label for={`forecast-${siteId}`}>Forecast file for {siteName}</label>
      <p class="hint">
        Locationforecast JSON (MET Norway), MOSMIX KMZ (DWD) or grid data (US National Weather Service). Drop
        it here or choose it.
      </p>
      <input
        id={`forecast-${siteId}`}
        type="file"
        accept=".json,.geojson,.kmz,.kml,application/json"
        onChange={(event) => void give(event.currentTarget.files?.[0])}
      />
      {told.value !== null && <p aria-live="polite">{told.value}</p>}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </div>
  );
}
