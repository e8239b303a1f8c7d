/** Camera and lens, asked for by nobody: a usual kit stands in until one is told. */
import { useSignal } from '@preact/signals';
import type { Kit } from '../question/inputs.ts';

const sensors: readonly (readonly [string, number, number])[] = [
  ['36 × 24 mm', 36, 24],
  ['23.5 × 15.6 mm', 23.5, 15.6],
  ['22.3 × 14.9 mm', 22.3, 14.9],
  ['17.3 × 13 mm', 17.3, 13],
  ['13.2 × 8.8 mm', 13.2, 8.8],
];

type NumberField = Exclude<keyof Kit, 'sensorWidthMm' | 'sensorHeightMm'>;

const fields: readonly (readonly [NumberField, string, number, number])[] = [
  ['widthPx', 'Pixels across', 500, 30_000],
  ['heightPx', 'Pixels down', 500, 30_000],
  ['focalLengthMm', 'Focal length, mm', 5, 800],
  ['minFNumber', 'Widest aperture, f/', 0.95, 16],
  ['maxFNumber', 'Smallest aperture, f/', 8, 64],
];

export function KitForm({ kit, onChange }: { kit: Kit; onChange: (kit: Kit) => void }) {
  const fault = useSignal<string | null>(null);
  const change = (name: NumberField, words: string, typed: string, least: number, most: number) => {
    const value = Number(typed.replace(',', '.'));
    if (!(value >= least && value <= most)) {
      fault.value = `Expected ${least} to ${most} for “${words}”, but found “${typed}”.`;
      return;
    }
    const next = { ...kit, [name]: value };
    if (next.minFNumber > next.maxFNumber) {
      fault.value = 'The smallest aperture cannot be wider than the widest.';
      return;
    }
    fault.value = null;
    onChange(next);
  };
  const chosen = sensors.findIndex(
    ([, width, height]) => width === kit.sensorWidthMm && height === kit.sensorHeightMm,
  );
  return (
    <details class="folded">
      <summary>
        Kit: {kit.sensorWidthMm} × {kit.sensorHeightMm} mm, {Math.round((kit.widthPx * kit.heightPx) / 1e6)}{' '}
        megapixels, {kit.focalLengthMm} mm
      </summary>
      <div class="fields">
        <div class="field">
          <label for="sensor">Sensor</label>
          <select
            id="sensor"
            value={chosen === -1 ? 0 : chosen}
            onChange={(event) => {
              const sensor = sensors[Number(event.currentTarget.value)];
              if (sensor !== undefined)
                onChange({ ...kit, sensorWidthMm: sensor[1], sensorHeightMm: sensor[2] });
            }}
          >
            {sensors.map(([words], index) => (
              <option key={words} value={index}>
                {words}
              </option>
            ))}
          </select>
        </div>
        {fields.map(([name, words, least, most]) => (
          <div class="field" key={name}>
            <label for={name}>{words}</label>
            <input
              id={name}
              inputMode="decimal"
              value={String(kit[name])}
              onChange={(event) => change(name, words, event.currentTarget.value, least, most)}
            />
          </div>
        ))}
      </div>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </details>
  );
}
