/** The cell that a service is asked about for a site or for typed coordinates. */
import type { ForecastCell } from '@tepal/formats';
import { forecastCellOfSite, type Site } from '@tepal/notebook';
import { DeskFault } from '../files/faults.ts';

/**
 * The cell of a site, as `release` lets it out.
 *
 * @throws DomainError if the position is out of range
 * @throws DeskFault where the place is known so vaguely that no cell holds it
 */
export function forecastCellOf(site: Pick<Site, 'position' | 'region'>): ForecastCell {
  const found = forecastCellOfSite(site);
  if (found.kind === 'tooVague') throw new DeskFault(found.why);
  return found.cell;
}

/** The cell of bare coordinates, as typed. @throws DomainError if out of range */
export function forecastCellOfCoordinates(place: {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number | null;
}): ForecastCell {
  return forecastCellOf({ position: { ...place, coordinateUncertaintyM: null }, region: null });
}
