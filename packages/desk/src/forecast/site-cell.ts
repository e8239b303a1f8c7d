/** A site as a forecast service may know it: through `release`, as the published grid's cell of 0.1 degree. */
import { forecastCell, type ForecastCell } from '@tepal/formats';
import { privatePlaceOfSite, release, type Site } from '@tepal/notebook';
import { DeskFault } from '../files/faults.ts';

/**
 * The cell that is asked about for a place. A service notes each request with the address that it came from, so it is
 * the public, and every site counts as highly sensitive: more is not needed for a forecast.
 *
 * @throws DomainError if the position is out of range
 * @throws DeskFault where the place is known so vaguely that no cell holds it
 */
export function forecastCellOf(site: Pick<Site, 'position' | 'region'>): ForecastCell {
  const answer = release(privatePlaceOfSite(site), {
    audience: 'public',
    wish: 'coarse',
    sensitivity: 'high',
  });
  const { latitudeDeg, longitudeDeg } = answer.ok ? answer.place : {};
  if (latitudeDeg === undefined || longitudeDeg === undefined) {
    throw new DeskFault('The place is known too vaguely to ask for its forecast; give it a position.');
  }
  return forecastCell({ latitudeDeg, longitudeDeg, altitudeM: site.position.altitudeM });
}

/** The cell of bare coordinates, as typed. @throws DomainError if out of range */
export function forecastCellOfCoordinates(place: {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number | null;
}): ForecastCell {
  return forecastCellOf({ position: { ...place, coordinateUncertaintyM: null }, region: null });
}
