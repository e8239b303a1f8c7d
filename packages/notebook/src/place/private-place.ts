/** An exact place, sealed: it can be handed about, but read by `release` alone, and no print or log shows it. */
import type { Position } from '../kept/position.ts';
import type { KeptRecord } from '../kept/record.ts';
import type { Site } from '../kept/site.ts';

declare const sealed: unique symbol;

/** A place whose coordinates cannot be read from it. Written as JSON or text it says "a private place". */
export interface PrivatePlace {
  readonly [sealed]: true;
}

interface Held {
  readonly position: Position;
  /** The wider area by name, which may be told; null for none. */
  readonly regionName: string | null;
}

const held = new WeakMap<PrivatePlace, Held>();

class SealedPlace {
  toJSON(): string {
    return 'a private place';
  }
  toString(): string {
    return 'a private place';
  }
}

function seal(position: Position, regionName: string | null): PrivatePlace {
  const place = Object.freeze(new SealedPlace()) as unknown as PrivatePlace;
  held.set(place, { position: { ...position }, regionName });
  return place;
}

/** A site's place, sealed. */
export function privatePlaceOfSite(site: Pick<Site, 'position' | 'region'>): PrivatePlace {
  return seal(site.position, site.region);
}

/** A record's place, sealed: its own position, else its site's; null if neither is known. */
export function privatePlaceOfRecord(
  record: Pick<KeptRecord, 'position'>,
  site: Pick<Site, 'position' | 'region'> | null,
): PrivatePlace | null {
  const position = record.position ?? site?.position;
  return position === undefined ? null : seal(position, site?.region ?? null);
}

/** What a sealed place holds. For `release` only: the package's index does not give it out. */
export function unseal(place: PrivatePlace): Held {
  const found = held.get(place);
  if (found === undefined) throw new TypeError('This place was not sealed here.');
  return found;
}
