/** What the notebook says of a site and the plants wanted there, in the advice's terms. */
import { USUAL_PLANT, type PlantPlace, type WantedHours } from '@tepal/advice';
import { find, list, type Notebook, type Site } from '@tepal/notebook';

/** Pictures wanted at a site: those of the site, and those that any site of their subject serves. */
export function wantedAtSite(notebook: Notebook, siteId: string, only?: string): readonly WantedHours[] {
  return list(notebook, 'wantedPicture').filter(
    (wanted) =>
      (wanted.siteId === null || wanted.siteId === siteId) &&
      wanted.closedBy === null &&
      (only === undefined || wanted.id === only),
  );
}

/** The plant at a site: the site's own stand and ground, and the height of the subject that is wanted there. */
export function plantAtSite(notebook: Notebook, site: Site, only?: string): PlantPlace {
  const { position } = site;
  const heights = list(notebook, 'wantedPicture')
    .filter(
      ({ id, siteId }) => (siteId === site.id || siteId === null) && (only === undefined || id === only),
    )
    .map(({ subjectId }) => find(notebook, 'subject', subjectId)?.heightAboveGroundM ?? null)
    .filter((height) => height !== null);
  return {
    latitudeDeg: position.latitudeDeg,
    longitudeDeg: position.longitudeDeg,
    altitudeM: position.altitudeM ?? 0,
    // The tallest stands most in the wind; what suits it suits the others.
    plantHeightM: heights.length > 0 ? Math.max(...heights) : USUAL_PLANT.plantHeightM,
    vegetationHeightM: site.vegetationHeightM ?? USUAL_PLANT.vegetationHeightM,
    profile: USUAL_PLANT.profile,
    landform: site.landform ?? USUAL_PLANT.landform,
    shelter: site.shelter ?? USUAL_PLANT.shelter,
  };
}
