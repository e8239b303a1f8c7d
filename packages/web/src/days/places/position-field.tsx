/** Where a place is: typed in any notation, this device's own, or marked in a GPX file. */
import { useSignal } from '@preact/signals';
import { positionsOfGpx, type MarkedPlace } from '@tepal/formats';
import { notebookOf } from '../../field/notebook.ts';
import { digits } from '../../words/amounts.ts';
import { deviceReading } from './device-position.ts';
import { degreesWords, positionTyped, type FieldState } from './typed-position.ts';

interface FieldProps {
  readonly state: FieldState;
  readonly onState: (state: FieldState) => void;
  /** Places that were marked in a GPX file, when it holds several. */
  readonly onMarked?: (places: readonly MarkedPlace[]) => void;
}

export function PositionField({ state, onState, onMarked }: FieldProps) {
  const fault = useSignal<string | null>(null);
  const asking = useSignal(false);
  const here = async () => {
    asking.value = true;
    const reading = await deviceReading();
    asking.value = false;
    const room = notebookOf('mine').peek()?.room;
    fault.value = reading.ok ? null : reading.message;
    if (!reading.ok || room === undefined) return;
    const position = room.positionOfReceiver(reading.value);
    const within = position.coordinateUncertaintyM;
    onState({
      typed: degreesWords(position),
      position,
      saying:
        within === null ? 'This device’s position.' : `This device’s position, within ${digits(within)} m.`,
    });
  };
  const read = async (file: File | undefined) => {
    if (file === undefined) return;
    const places = positionsOfGpx(new Uint8Array(await file.arrayBuffer()));
    fault.value = places.ok ? null : places.fault.message;
    if (places.ok) onMarked?.(places.value);
  };
  return (
    <div class="field wide">
      <label for="site-position">Position</label>
      <input
        id="site-position"
        required
        autocomplete="off"
        spellcheck={false}
        value={state.typed}
        aria-describedby="site-position-hint"
        onInput={(event) => onState(positionTyped(event.currentTarget.value))}
      />
      <p class="hint" id="site-position-hint" aria-live="polite">
        {state.saying ||
          'Degrees (52.3457, −1.2346), degrees and minutes, UTM, MGRS, a British grid reference, or a shared geo: link.'}
      </p>
      <div class="position-ways">
        <button type="button" class="quiet" disabled={asking.value} onClick={() => void here()}>
          {asking.value ? 'Asking this device' : 'Here: take this device’s position'}
        </button>
        {onMarked !== undefined && (
          <label class="as-button">
            From a GPX file
            <input
              class="unseen"
              type="file"
              accept=".gpx,application/gpx+xml"
              onChange={(event) => void read(event.currentTarget.files?.[0])}
            />
          </label>
        )}
      </div>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </div>
  );
}
