/** Several places marked in one GPX file: one of them, or all. */
import { useSignal } from '@preact/signals';
import type { MarkedPlace } from '@tepal/formats';
import { writeNotebook } from '../../field/notebook.ts';
import { counted } from '../../words/amounts.ts';

export function MarkedPlaces(props: {
  places: readonly MarkedPlace[];
  onOne: (place: MarkedPlace) => void;
  onAll: (told: string) => void;
}) {
  const { places, onOne, onAll } = props;
  const fault = useSignal<string | null>(null);
  const addAll = async () => {
    fault.value = await writeNotebook('mine', `${places.length} sites added`, (pen) => {
      places.forEach(({ name, latitudeDeg, longitudeDeg, altitudeM }, index) =>
        pen.put('site', {
          id: crypto.randomUUID(),
          name: name ?? `Marked place ${index + 1}`,
          region: null,
          position: { latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM: null },
          ...{ shelter: null, slopeDeg: null, aspectDeg: null, vegetationHeightM: null, landform: null },
          ...{ access: '', cautions: [], notes: '' },
        }),
      );
    });
    if (fault.value === null) onAll(`${counted(places.length, 'place')} noted. Say how sheltered each is.`);
  };
  return (
    <div class="told">
      <p>{counted(places.length, 'place')} in the file. Take one, or all:</p>
      <div class="buttons">
        {places.slice(0, 40).map((place, index) => (
          <button type="button" class="quiet" key={index} onClick={() => onOne(place)}>
            {place.name ?? `place ${index + 1}`}
          </button>
        ))}
        <button type="button" onClick={() => void addAll()}>
          Add all {places.length}
        </button>
      </div>
      {fault.value !== null && <p role="alert">{fault.value}</p>}
    </div>
  );
}
