/** A site, new or edited: a name, a position, and one of five words of shelter. All else is optional. */
import { useSignal } from '@preact/signals';
import type { MarkedPlace } from '@tepal/formats';
import type { Position, Site } from '@tepal/notebook';
import { writeNotebook } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';
import { GroundFields } from './ground-fields.tsx';
import { MarkedPlaces } from './marked-places.tsx';
import { PositionField } from './position-field.tsx';
import { SHELTER_MEANINGS, siteOfForm } from './site-of-form.ts';
import { positionKept, positionTyped, type FieldState } from './typed-position.ts';

interface FormProps {
  /** The site that is edited; null for a new one. */
  readonly site: Site | null;
  /** Where a new one is, where that is known already. */
  readonly at?: Position | null;
  readonly onDone: (told: string) => void;
}

export function SiteForm({ site, at = null, onDone }: FormProps) {
  const fault = useSignal<string | null>(null);
  const writing = useSignal(false);
  const known = site?.position ?? at;
  const state = useSignal<FieldState>(known === null ? positionTyped('') : positionKept(known));
  const marked = useSignal<readonly MarkedPlace[] | null>(null);
  const name = useSignal(site?.name ?? '');
  /** A new form after each place that is added. */
  const times = useSignal(0);

  const takeMarked = (places: readonly MarkedPlace[]) => {
    const [only] = places;
    marked.value = places;
    if (places.length === 1 && only !== undefined) takeOne(only);
  };
  const takeOne = (place: MarkedPlace) => {
    const { latitudeDeg, longitudeDeg, altitudeM } = place;
    state.value = positionKept({ latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM: null });
    if (name.value === '' && place.name !== null) name.value = place.name;
    marked.value = null;
  };

  const write = async (form: HTMLFormElement) => {
    const { position, saying } = state.value;
    if (position === null) {
      fault.value = saying || 'Give the place a position.';
      return;
    }
    const id = site?.id ?? crypto.randomUUID();
    const read = siteOfForm(new FormData(form), { id, before: site, position });
    if (!read.ok) {
      fault.value = read.message;
      return;
    }
    writing.value = true;
    const message = site === null ? 'site added' : 'site changed';
    fault.value = await writeNotebook('mine', message, (pen) => pen.put('site', read.site));
    writing.value = false;
    if (fault.value !== null) return;
    if (site === null) {
      name.value = '';
      state.value = positionTyped('');
      times.value++;
    }
    void workOut('mine');
    onDone(site === null ? `${read.site.name} is noted.` : `${read.site.name} is changed.`);
  };

  return (
    <form
      key={times.value}
      onSubmit={(event) => {
        event.preventDefault();
        void write(event.currentTarget);
      }}
    >
      <div class="fields">
        <div class="field wide">
          <label for="site-name">Name of the place</label>
          <input
            id="site-name"
            name="name"
            required
            autocomplete="off"
            value={name.value}
            onInput={(event) => (name.value = event.currentTarget.value)}
          />
        </div>
        <PositionField
          state={state.value}
          onState={(next) => (state.value = next)}
          {...(site === null ? { onMarked: takeMarked } : {})}
        />
      </div>
      {marked.value !== null && marked.value.length > 1 && (
        <MarkedPlaces
          places={marked.value}
          onOne={takeOne}
          onAll={(told) => {
            marked.value = null;
            void workOut('mine');
            onDone(told);
          }}
        />
      )}
      <fieldset class="field shelter">
        <legend>Shelter</legend>
        <div class="choices">
          {Object.entries(SHELTER_MEANINGS).map(([word, meaning]) => (
            <label key={word} title={meaning}>
              <input
                type="radio"
                name="shelter"
                value={word}
                defaultChecked={word === (site === null ? 'grassy' : site.shelter)}
              />
              {word}
            </label>
          ))}
        </div>
      </fieldset>
      <GroundFields site={site} />
      <p class="hint">The place stays in your notebook; it leaves the house only made coarse.</p>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      <div class="buttons">
        <button class="first" disabled={writing.value}>
          {site === null ? 'Add the place' : 'Keep the changes'}
        </button>
      </div>
    </form>
  );
}
