/** The days at a kept site against a forecast: the one way for the pages' worker, the engine and the command line. */
import type { Forecast } from '@tepal/formats';
import type { Site } from '@tepal/notebook';
import { flowerHeightAt, plantPlaceOfSite, wantedHoursAt, type KeptForWhen } from './from-notebook.ts';
import type { PlantPlace } from './place.ts';
import type { SubjectSeen } from './season-year.ts';
import { whenDocument, type WhenAnswer } from './when-document.ts';
import { freeSpans, type FreeEntry, type FreeSpan } from './window/free-hours.ts';

/** The lists of a notebook that the days hang on. */
export interface KeptForDays extends KeptForWhen {
  readonly freeHours: readonly FreeEntry[];
}

/** An instant stands for at most this long after it [ms]. */
const longestStandMs = 6 * 3_600_000;

/** Where the notebook does not say, the usual plant stands in; an unknown altitude is the forecast's own. */
export function plantPlaceUnder(site: Site, kept: KeptForWhen, forecast: Forecast): PlantPlace {
  const plantHeightM = flowerHeightAt(site.id, kept);
  return plantPlaceOfSite(site, { plantHeightM, altitudeM: forecast.altitudeM });
}

/** When the photographer can go within the hours of a forecast; null where no free hours are kept: any time. */
export function freeDuring(entries: readonly FreeEntry[], forecast: Forecast): readonly FreeSpan[] | null {
  const [first, last] = [forecast.instants[0], forecast.instants.at(-1)];
  if (entries.length === 0 || first === undefined || last === undefined) return null;
  return freeSpans(entries, { fromMs: first.timeMs, toMs: last.timeMs + longestStandMs });
}

/**
 * The document `tepal/when/1` of a kept site: its hours, and the windows for the pictures that are wanted there.
 *
 * @param request.nowMs Unix time [ms]
 * @param request.sightings what `sightingsOf` gave, to be worked out once for many sites; worked out here where left out
 * @throws DomainError if the site's position is out of range
 */
export function siteDocument(
  site: Site,
  kept: KeptForDays,
  request: {
    readonly forecast: Forecast;
    readonly nowMs: number;
    readonly sightings?: readonly SubjectSeen[];
  },
): WhenAnswer {
  const { forecast, nowMs, sightings } = request;
  return whenDocument({
    place: plantPlaceUnder(site, kept, forecast),
    wanted: wantedHoursAt(site, kept, { nowMs, ...(sightings === undefined ? {} : { sightings }) }),
    free: freeDuring(kept.freeHours, forecast),
    ...{ forecast, siteId: site.id, nowMs, fromMs: null, toMs: null },
  });
}
