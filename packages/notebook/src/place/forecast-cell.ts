/** A site as a forecast service may know it: through `release`, as the published grid's cell of 0.1 degree. */
import { forecastCell, type ForecastCell } from '@tepal/formats';
import type { Site } from '../kept/site.ts';
import { privatePlaceOfSite } from './private-place.ts';
import { release } from './release.ts';

/** The cell to ask about, or that the place is known too vaguely for one. */
export type ForecastCellOfSite =
  | { readonly kind: 'cell'; readonly cell: ForecastCell }
  | { readonly kind: 'tooVague'; readonly why: string };

/**
 * The cell that is asked about for a place, at the desk and on the phone alike. A service notes each request with the
 * address that it came from, so it is the public, and every site counts as highly sensitive: more is not needed for a
 * forecast. The altitude goes with it, to 50 m.
 *
 * @throws DomainError if the position is out of range
 */
export function forecastCellOfSite(site: Pick<Site, 'position' | 'region'>): ForecastCellOfSite {
  const answer = release(privatePlaceOfSite(site), {
    audience: 'public',
    wish: 'coarse',
    sensitivity: 'high',
  });
  const { latitudeDeg, longitudeDeg } = answer.ok ? answer.place : {};
  if (latitudeDeg === undefined || longitudeDeg === undefined) {
    const why = 'The place is known too vaguely to ask for its forecast; give it a position.';
    return { kind: 'tooVague', why };
  }
  return {
    kind: 'cell',
    cell: forecastCell({ latitudeDeg, longitudeDeg, altitudeM: site.position.altitudeM }),
  };
}
