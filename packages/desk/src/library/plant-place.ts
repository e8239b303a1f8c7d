/** A site and a subject of the notebook as what the hours are computed for. */
import { USUAL_PLANT, type PlantPlace, type WantedHours } from '@tepal/advice';
import type { Forecast } from '@tepal/formats';
import { find, list, type Notebook, type Site } from '@tepal/notebook';

/** Where the notebook does not say, advice's usual plant stands in; an unknown altitude is the forecast's own. */
export function plantPlaceOf(notebook: Notebook, site: Site, forecast: Forecast): PlantPlace {
  const { latitudeDeg, longitudeDeg, altitudeM } = site.position;
  const heights = list(notebook, 'wantedPicture')
    .filter(({ siteId }) => siteId === site.id)
    .map(({ subjectId }) => find(notebook, 'subject', subjectId)?.heightAboveGroundM ?? null)
    .filter((height) => height !== null);
  return {
    ...USUAL_PLANT,
    latitudeDeg,
    longitudeDeg,
    altitudeM: altitudeM ?? forecast.altitudeM ?? 0,
    ...(heights[0] === undefined ? {} : { plantHeightM: heights[0] }),
    ...(site.vegetationHeightM === null ? {} : { vegetationHeightM: site.vegetationHeightM }),
    ...(site.landform === null ? {} : { landform: site.landform }),
    ...(site.shelter === null ? {} : { shelter: site.shelter }),
  };
}

/** The wanted pictures that a site could give, open ones only. */
export function wantedAt(notebook: Notebook, siteId: string): readonly WantedHours[] {
  return list(notebook, 'wantedPicture').filter(
    (wanted) => wanted.closedBy === null && (wanted.siteId === null || wanted.siteId === siteId),
  );
}
