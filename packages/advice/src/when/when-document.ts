/** The whole answer to "when" at one site: hours, windows, misses and cautions in one document. */
import { formatInstant, type Forecast, type WhenDocument } from '@tepal/formats';
import { cautionsOf, forecastAgeH } from './cautions.ts';
import type { FreeSpan } from './window/free-hours.ts';
import { hereNow, type HereNow } from './here-now.ts';
import { hoursAtPlant, type HourAtPlant } from './hour/hours.ts';
import type { PlantPlace } from './place.ts';
import { sunSpells, type SunSpell } from './hour/sun-spells.ts';
import type { WantedHours } from './window/needs.ts';
import { outlookOf, type OutlookPart } from './window/outlook.ts';
import { findWindows, type FoundMiss, type FoundWindow } from './window/windows.ts';
import { hourInWords, windInWords } from './words.ts';

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
  /** When the photographer can go; null or left out for any time. */
  readonly free?: readonly FreeSpan[] | null;
}

/** An hour as it is printed: the contract's keys, and beside them all that the pages tell. */
export type PrintedHour = Omit<HourAtPlant, 'timeMs' | 'stable' | 'dayOfYear'> & {
  /** The hour in a sentence. */
  readonly words: string;
  readonly wind: HourAtPlant['wind'] & {
    /** "still to nodding": the words of the range. */
    readonly inWords: string | null;
  };
};

/** The document with what stands beside the contract's keys. */
export interface WhenAnswer extends WhenDocument {
  readonly hours: PrintedHour[];
  readonly windows: FoundWindow[];
  readonly misses: FoundMiss[];
  /** What it is like now, and when it next suits any close-up. */
  readonly here: HereNow;
  /** Past the third day, parts of days in a word. */
  readonly outlook: readonly OutlookPart[];
  /** When the sun clears the place's horizon. */
  readonly sunOnPlant: readonly SunSpell[];
  /** The source's own definitions, as sentences. */
  readonly notes: readonly string[];
}

/**
 * The document `tepal/when/1`.
 *
 * Drops are followed through the whole forecast before it is cut to `fromMs` and `toMs`.
 *
 * @throws DomainError if the place is out of range
 */
export function whenDocument(request: WhenRequest): WhenAnswer {
  const { place, forecast, nowMs, fromMs, toMs, siteId, wanted, free = null } = request;
  const all = hoursAtPlant(place, forecast);
  const hours = all.filter(({ timeMs }) => timeMs >= (fromMs ?? -Infinity) && timeMs <= (toMs ?? Infinity));
  const { longitudeDeg } = place;
  const { windows, misses } = findWindows({ siteId, hours, wanted, nowMs, free, longitudeDeg });
  return {
    schema: 'tepal/when/1',
    site: { latitudeDeg: place.latitudeDeg, longitudeDeg, altitudeM: place.altitudeM },
    forecast: {
      source: forecast.source,
      issuedAt: forecast.issuedAtMs === null ? null : formatInstant(forecast.issuedAtMs),
      ageH: forecastAgeH(forecast, nowMs),
      credit: forecast.credit,
    },
    hours: hours.map(asPrinted),
    windows,
    misses,
    here: hereNow(all, nowMs),
    outlook: outlookOf({ siteId, longitudeDeg }, hours, wanted),
    sunOnPlant: sunSpells(place, hours),
    notes: forecast.notes,
    cautions: cautionsOf(place, forecast, hours, nowMs),
  };
}

/** What is only for counting stays inside. */
function asPrinted(hour: HourAtPlant): PrintedHour {
  return {
    ...withoutCounts(hour),
    words: hourInWords(hour),
    wind: { ...hour.wind, inWords: windInWords(hour) },
  };
}

function withoutCounts({ timeMs: _timeMs, stable: _stable, dayOfYear: _dayOfYear, ...hour }: HourAtPlant) {
  return hour;
}
