/** Where forecasts come from: the service, and what its terms ask; the engine's own, or this device's. */
import { useSignal } from '@preact/signals';
import { forecastSources, type ForecastSettingsAnswer, type ForecastSourceName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { engineOf } from '../../engine/engine.ts';
import { atDesk } from '../../field/peer.ts';
import { forecasting, setForecasting, sourceNames } from '../compute/days-here.ts';
import { textOf } from '../places/typed-number.ts';

const LEAVES =
  'A request tells the service the middle of a cell of 0.1°, some 11 km wide, and the altitude to 50 m; never a place.';

const sourceOf = (text: string): ForecastSourceName | undefined =>
  sourceNames.find((source) => source === text);

export function ForecastSettings() {
  const engine = useSignal<ForecastSettingsAnswer | null>(null);
  const told = useSignal<string | null>(null);
  useEffect(() => {
    if (!atDesk) return;
    void engineOf('mine')
      .forecastSettings()
      .then((answer) => {
        if (answer.ok) engine.value = answer.value;
      });
  }, []);
  const answered = engine.value;
  const source = answered?.source ?? forecasting.value.source;

  const keepAll = async (form: HTMLFormElement) => {
    const data = new FormData(form);
    const chosen = sourceOf(textOf(data, 'source')) ?? source;
    const address = textOf(data, 'address').replace(/\/+$/, '');
    if (address !== '' && !/^https?:\/\/\S+$/.test(address)) {
      told.value = `Expected a web address, as https://forecast.example, but found “${address}”.`;
      return;
    }
    await setForecasting({ source: chosen, ...(answered === null ? { address: address || null } : {}) });
    if (answered !== null) {
      const answer = await engineOf('mine').setForecastSettings({
        source: chosen,
        contact: textOf(data, 'contact'),
      });
      if (answer.ok) engine.value = answer.value;
      told.value = answer.ok ? 'Kept.' : answer.fault.message;
    } else told.value = 'Kept on this device.';
  };
  return (
    <form
      key={answered === null ? 'device' : 'engine'}
      onSubmit={(event) => {
        event.preventDefault();
        void keepAll(event.currentTarget);
      }}
    >
      <div class="fields">
        <div class="field">
          <label for="forecast-source">Service</label>
          <select id="forecast-source" name="source">
            {sourceNames.map((name) => (
              <option key={name} value={name} selected={name === source}>
                {forecastSources[name].title}, {forecastSources[name].reach}
              </option>
            ))}
          </select>
        </div>
        {answered === null ? (
          <div class="field">
            <label for="forecast-address">Another address of it, if you run one</label>
            <input
              id="forecast-address"
              name="address"
              inputMode="url"
              autocomplete="off"
              placeholder={forecastSources[source].address}
              defaultValue={forecasting.value.address ?? ''}
            />
          </div>
        ) : (
          <div class="field">
            <label for="forecast-contact">Your e-mail or web address, as its terms ask</label>
            <input
              id="forecast-contact"
              name="contact"
              autocomplete="email"
              defaultValue={answered.contact ?? ''}
            />
          </div>
        )}
      </div>
      <p class="hint">{answered?.leaves ?? LEAVES}</p>
      <div class="buttons">
        <button>Keep</button>
        <span aria-live="polite">{told.value}</span>
      </div>
    </form>
  );
}
