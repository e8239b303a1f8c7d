/** A notebook's lists as advice reads them: what the hours are computed for, and what is wanted there. */
import {
  flowerHeightAt,
  freeSpans,
  plantPlaceOfSite,
  wantedHoursAt,
  type FreeSpan,
  type KeptForWhen,
  type PlantPlace,
  type WantedHours,
} from '@tepal/advice';
import type { Forecast } from '@tepal/formats';
import { list, type Notebook, type Site } from '@tepal/notebook';

/** The lists of a notebook that the hours hang on. */
export function keptForWhen(notebook: Notebook): KeptForWhen {
  return {
    sites: list(notebook, 'site'),
    subjects: list(notebook, 'subject'),
    wantedPictures: list(notebook, 'wantedPicture'),
    records: list(notebook, 'record'),
  };
}

/** Where the notebook does not say, advice's usual plant stands in; an unknown altitude is the forecast's own. */
export function plantPlaceOf(notebook: Notebook, site: Site, forecast: Forecast): PlantPlace {
  const plantHeightM = flowerHeightAt(site.id, keptForWhen(notebook));
  return plantPlaceOfSite(site, { plantHeightM, altitudeM: forecast.altitudeM });
}

/** The wanted pictures that a site could give, open ones only, with the season of their subjects there. */
export function wantedAt(notebook: Notebook, site: Site, nowMs: number): readonly WantedHours[] {
  return wantedHoursAt(site, keptForWhen(notebook), { nowMs });
}

/** When the photographer can go within the hours of a forecast; null where no free hours are kept: any time. */
export function freeDuring(notebook: Notebook, forecast: Forecast): readonly FreeSpan[] | null {
  const entries = list(notebook, 'freeHours');
  const [first, last] = [forecast.instants[0], forecast.instants.at(-1)];
  if (entries.length === 0 || first === undefined || last === undefined) return null;
  return freeSpans(entries, { fromMs: first.timeMs, toMs: last.timeMs + 6 * 3_600_000 });
}
