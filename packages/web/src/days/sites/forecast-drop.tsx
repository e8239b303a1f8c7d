/** Giving a forecast file for a site: dropped, or chosen. */
import { useSignal } from '@preact/signals';
import type { DaysAnswer, StoreName } from '@tepal/formats';
import { engineOf } from '../../engine/engine.ts';

interface DropProps {
  readonly store: StoreName;
  readonly siteId: string;
  readonly siteName: string;
  readonly onDays: (days: DaysAnswer) => void;
}

export function ForecastDrop({ store, siteId, siteName, onDays }: DropProps) {
  const over = useSignal(false);
  const reading = useSignal(false);
  const fault = useSignal<string | null>(null);
  const give = async (file: File | undefined) => {
    if (file === undefined) return;
    reading.value = true;
    fault.value = null;
    const answer = await engineOf(store).giveForecast(siteId, new Uint8Array(await file.arrayBuffer()));
    reading.value = false;
    if (answer.ok) onDays(answer.value);
    else fault.value = answer.fault.message;
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
      <p class="hint">Locationforecast JSON of MET Norway, complete or compact. Drop it here or choose it.</p>
      <input
        id={`forecast-${siteId}`}
        type="file"
        accept=".json,application/json"
        onChange={(event) => void give(event.currentTarget.files?.[0])}
      />
      {reading.value && <p aria-live="polite">Reading the forecast.</p>}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </div>
  );
}
