/** Which service is asked for forecasts, under which address, and with which contact. */
import { FORECAST_SOURCES, forecastContact, type ForecastSourceName } from '@tepal/formats';
import { DeskFault } from '../files/faults.ts';

export interface ForecastSettings {
  readonly source: ForecastSourceName;
  /** A way to reach who runs this, sent to the service as its terms ask; null: none was given. */
  readonly contact: string | null;
  readonly addresses: { readonly [S in ForecastSourceName]?: string };
  readonly catalogue: string | null;
}

const VARIABLES = {
  source: 'TEPAL_FORECAST_SOURCE',
  contact: 'TEPAL_CONTACT',
  catalogue: 'TEPAL_FORECAST_STATIONS',
} as const;

const addressVariables: { readonly [S in ForecastSourceName]: string } = {
  locationforecast: 'TEPAL_LOCATIONFORECAST_ADDRESS',
  mosmix: 'TEPAL_MOSMIX_ADDRESS',
  usGridPoints: 'TEPAL_US_GRID_ADDRESS',
};

/**
 * The settings: what was said on the pages, over which the environment's variables stand (`TEPAL_CONTACT`,
 * `TEPAL_FORECAST_SOURCE`, an address for each service).
 *
 * @param kept a setting of the library by name; null where it was never made
 * @throws DeskFault when a variable holds what cannot be used
 */
export function forecastSettings(
  kept: (name: string) => string | null,
  environment: Readonly<Record<string, string | undefined>>,
): ForecastSettings {
  const from = (variable: string) => environment[variable]?.trim() || null;
  const addresses: { [S in ForecastSourceName]?: string } = {};
  for (const source of FORECAST_SOURCES) {
    const address = from(addressVariables[source]);
    if (address !== null) addresses[source] = addressOf(addressVariables[source], address);
  }
  const catalogue = from(VARIABLES.catalogue);
  const contact = from(VARIABLES.contact) ?? kept('forecast.contact');
  return {
    source: sourceOf(from(VARIABLES.source) ?? kept('forecast.source') ?? 'locationforecast'),
    contact: contact === null ? null : forecastContact(contact),
    addresses,
    catalogue: catalogue === null ? null : addressOf(VARIABLES.catalogue, catalogue),
  };
}

/** @throws DeskFault when there is no such source */
export function sourceOf(text: string): ForecastSourceName {
  const found = FORECAST_SOURCES.find((source) => source === text);
  if (found !== undefined) return found;
  throw new DeskFault(
    `expected one of ${FORECAST_SOURCES.join(', ')} for the source of forecasts but received ${text}.`,
  );
}

function addressOf(variable: string, text: string): string {
  if (/^https?:\/\/[^\s]+$/.test(text)) return text.replace(/\/+$/, '');
  throw new DeskFault(`expected a web address for ${variable} but received ${text}.`);
}
