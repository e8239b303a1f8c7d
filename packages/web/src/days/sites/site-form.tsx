/** A new site: a name, a place in degrees (or the browser's own), and one of five words of shelter. */
import { useSignal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import type { Site } from '@tepal/notebook';
import { readDegrees } from './degrees.ts';
import { writeNotebook } from '../../field/notebook.ts';

const shelters: readonly (readonly [NonNullable<Site['shelter']>, string])[] = [
  ['open', 'nothing near that keeps the wind off'],
  ['grassy', 'tall grass around, else open'],
  ['hedged', 'a hedge or bank on one side or more'],
  ['wooded', 'among trees'],
  ['hollow', 'in a dip of the ground'],
];

export function SiteForm({
  store,
  onAdded,
}: {
  store: StoreName;
  onAdded: (site: { id: string; name: string }) => void;
}) {
  const fault = useSignal<string | null>(null);
  const writing = useSignal(false);
  const latitude = useSignal('');
  const longitude = useSignal('');
  const accuracyM = useSignal<number | null>(null);

  const here = () => {
    fault.value = null;
    if (!('geolocation' in navigator)) {
      fault.value = 'This browser gives no position; type the degrees.';
      return;
    }
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        latitude.value = coords.latitude.toFixed(5);
        longitude.value = coords.longitude.toFixed(5);
        accuracyM.value = coords.accuracy;
      },
      ({ message }) => {
        fault.value = `The browser gave no position (${message}); type the degrees.`;
      },
      { enableHighAccuracy: true, timeout: 15_000 },
    );
  };

  const add = async (form: HTMLFormElement) => {
    const data = new FormData(form);
    const lat = readDegrees(latitude.value, 'latitude', 90);
    const lon = readDegrees(longitude.value, 'longitude', 180);
    const name = String(data.get('name') ?? '').trim();
    const shelter = shelters.find(([word]) => word === data.get('shelter'))?.[0] ?? null;
    if (!lat.ok || !lon.ok) {
      fault.value = lat.ok ? (lon.ok ? null : lon.message) : lat.message;
      return;
    }
    const id = crypto.randomUUID();
    writing.value = true;
    fault.value = await writeNotebook(store, 'site added', (pen) =>
      pen.put('site', {
        id,
        name,
        region: null,
        position: {
          latitudeDeg: lat.degrees,
          longitudeDeg: lon.degrees,
          altitudeM: null,
          // A browser's accuracy is about a 50 % circle; doubled it holds the place 95 times in 100 (FS 8.2).
          coordinateUncertaintyM: accuracyM.value === null ? null : Math.max(1, 2 * accuracyM.value),
        },
        shelter,
        slopeDeg: null,
        aspectDeg: null,
        vegetationHeightM: null,
        landform: null,
        access: '',
        cautions: [],
        notes: '',
      }),
    );
    writing.value = false;
    if (fault.value !== null) return;
    form.reset();
    latitude.value = '';
    longitude.value = '';
    accuracyM.value = null;
    onAdded({ id, name });
  };

  const degreesField = (id: string, label: string, value: typeof latitude) => (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        required
        inputMode="decimal"
        autocomplete="off"
        value={value.value}
        onInput={(event) => {
          value.value = event.currentTarget.value;
          accuracyM.value = null;
        }}
      />
    </div>
  );
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void add(event.currentTarget);
      }}
    >
      <div class="fields">
        <div class="field wide">
          <label for="site-name">Name of the place</label>
          <input id="site-name" name="name" required autocomplete="off" />
        </div>
        {degreesField('site-latitude', 'Latitude, degrees (south negative)', latitude)}
        {degreesField('site-longitude', 'Longitude, degrees (west negative)', longitude)}
      </div>
      <button type="button" class="quiet" onClick={here}>
        Here: take this device’s position
      </button>
      <fieldset class="field">
        <legend>Shelter</legend>
        <div class="choices">
          {shelters.map(([word, meaning]) => (
            <label key={word} title={meaning}>
              <input type="radio" name="shelter" value={word} defaultChecked={word === 'grassy'} />
              {word}
            </label>
          ))}
        </div>
      </fieldset>
      <p class="hint">The place stays in your notebook; it leaves the house only made coarse.</p>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      <div class="buttons">
        <button class="first" disabled={writing.value}>
          Add the place
        </button>
      </div>
    </form>
  );
}
