/** The whole answer to "when": hours, windows, misses and cautions in one document. */
import { formatInstant, type Forecast, type WhenDocument, type WhenHour } from '@tepal/formats';
import { cautionsOf, forecastAgeH } from './cautions.ts';
import { hoursAtPlant, type HourAtPlant } from './hour/hours.ts';
import type { PlantPlace } from './place.ts';
import type { WantedHours } from './window/factors.ts';
import { findWindows } from './window/windows.ts';

/** What is asked: a plant at a place, a forecast, what is wanted there. */
export interface WhenRequest {
  readonly place: PlantPlace;
  readonly forecast: Forecast;
  /** The site's identifier in windows and misses; any word where there is no notebook. */
  readonly siteId: string;
  readonly wanted: readonly WantedHours[];
  /** Unix time [ms]. */
  readonly nowMs: number;
  /** Only hours from here on, Unix time [ms]; null for all. */
  readonly fromMs: number | null;
  /** Only hours up to here, Unix time [ms]; null for all. */
  readonly toMs: number | null;
}

/**
 * The document `tepal/when/1`.
 *
 * Drops are followed through the whole forecast before it is cut to `fromMs` and `toMs`.
 *
 * @throws DomainError if the place is out of range
 */
export function whenDocument(request: WhenRequest): WhenDocument {
  const { place, forecast, nowMs, fromMs, toMs } = request;
  const hours = hoursAtPlant(place, forecast).filter(
    ({ timeMs }) => timeMs >= (fromMs ?? -Infinity) && timeMs <= (toMs ?? Infinity),
  );
  const { windows, misses } = findWindows({ siteId: request.siteId, hours, wanted: request.wanted, nowMs });
  return {
    schema: 'tepal/when/1',
    site: { latitudeDeg: place.latitudeDeg, longitudeDeg: place.longitudeDeg, altitudeM: place.altitudeM },
    forecast: {
      source: forecast.source,
      issuedAt: forecast.issuedAtMs === null ? null : formatInstant(forecast.issuedAtMs),
      ageH: forecastAgeH(forecast, nowMs),
      credit: forecast.credit,
    },
    hours: hours.map(asPrinted),
    windows,
    misses,
    cautions: cautionsOf(place, forecast, hours, nowMs),
  };
}

/** The keys of the contract, with the lighting ratio and the chance of rain beside them. */
function asPrinted({ timeMs: _timeMs, stable: _stable, ...hour }: HourAtPlant): WhenHour {
  return hour;
}
