/** The services that forecasts come from: where they are, what their terms ask, what is sent to them. */
import type { ForecastCell } from './forecast-cell.ts';

export const FORECAST_SOURCES = ['locationforecast', 'mosmix', 'usGridPoints'] as const;
export type ForecastSourceName = (typeof FORECAST_SOURCES)[number];

export interface ForecastSource {
  readonly title: string;
  readonly reach: string;
  /** Where it is asked, without a slash at the end; another address can be given for it. */
  readonly address: string;
  /** Whether its terms ask for a contact in the User-Agent. */
  readonly needsContact: boolean;
  readonly accept: string;
  /** How long an answer holds that does not say [ms]. */
  readonly holdsMs: number;
}

const HOUR_MS = 3_600_000;

export const forecastSources: { readonly [S in ForecastSourceName]: ForecastSource } = {
  locationforecast: {
    title: 'MET Norway Locationforecast 2.0',
    reach: 'everywhere',
    address: 'https://api.met.no',
    needsContact: true,
    accept: 'application/json',
    holdsMs: HOUR_MS / 2,
  },
  mosmix: {
    title: 'DWD MOSMIX_L',
    reach: 'at stations, densest in central Europe',
    address: 'https://opendata.dwd.de',
    needsContact: false,
    accept: 'application/vnd.google-earth.kmz, */*',
    holdsMs: HOUR_MS,
  },
  usGridPoints: {
    title: 'US National Weather Service, grid data',
    reach: 'in the United States',
    address: 'https://api.weather.gov',
    needsContact: true,
    accept: 'application/geo+json',
    holdsMs: HOUR_MS / 2,
  },
};

/** The catalogue of MOSMIX stations stands on another server than the forecasts. */
export const MOSMIX_CATALOGUE =
  'https://www.dwd.de/DE/leistungen/met_verfahren_mosmix/mosmix_stationskatalog.cfg?view=nasPublication';

/** At most four decimals are allowed; a cell's middle has two. */
export function locationforecastUrl(address: string, cell: ForecastCell): string {
  const altitude = cell.altitudeM === null ? '' : `&altitude=${cell.altitudeM}`;
  return `${address}/weatherapi/locationforecast/2.0/complete?lat=${cell.latitudeDeg}&lon=${cell.longitudeDeg}${altitude}`;
}

export function mosmixUrl(address: string, stationId: string): string {
  const id = encodeURIComponent(stationId);
  return `${address}/weather/local_forecasts/mos/MOSMIX_L/single_stations/${id}/kml/MOSMIX_L_LATEST_${id}.kmz`;
}

export function usPointUrl(address: string, cell: ForecastCell): string {
  return `${address}/points/${cell.latitudeDeg},${cell.longitudeDeg}`;
}

/** Grid data by office and cell, never by an address that an answer names. */
export function usGridUrl(address: string, grid: { office: string; x: number; y: number }): string {
  return `${address}/gridpoints/${grid.office}/${grid.x},${grid.y}`;
}
