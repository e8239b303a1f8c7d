/** Which kept site one stands at, and how far apart two positions are. */
import type { Position } from '../kept/position.ts';
import type { Site } from '../kept/site.ts';

type Point = Pick<Position, 'latitudeDeg' | 'longitudeDeg'>;

/** A site, and the distance to its kept position [m]. */
export interface SiteNearby {
  readonly site: Site;
  readonly distanceM: number;
}

/**
 * The site nearest to a position.
 *
 * @param sites in any order
 * @param here where one stands
 * @returns null where there is no site at all
 */
export function nearestSite(sites: readonly Site[], here: Point): SiteNearby | null {
  return sites
    .map((site) => ({ site, distanceM: distanceM(site.position, here) }))
    .reduce<SiteNearby | null>(
      (best, one) => (best === null || one.distanceM < best.distanceM ? one : best),
      null,
    );
}

/** Distance along the ground on a sphere of 6371 km, good to half a per cent [m]. */
export function distanceM(a: Point, b: Point): number {
  const rad = Math.PI / 180;
  const half = (x: number): number => Math.sin((x * rad) / 2) ** 2;
  const across = Math.cos(a.latitudeDeg * rad) * Math.cos(b.latitudeDeg * rad);
  const h = half(a.latitudeDeg - b.latitudeDeg) + across * half(a.longitudeDeg - b.longitudeDeg);
  return 2 * 6_371_000 * Math.asin(Math.min(1, Math.sqrt(h)));
}
