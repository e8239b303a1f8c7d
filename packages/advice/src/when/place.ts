/** What the hours are computed for: a place, a plant in its stand, what keeps the wind off and what hides the sun. */
import {
  DomainError,
  higherHorizon,
  horizonOfSlope,
  requireInRange,
  requireOneOf,
  type BarrierAtPlant,
  type HorizonProfile,
  type PlaceOnEarth,
} from '@tepal/science';

/** `direct`: logarithmic profile over the local stand alone; `two-step`: by way of the blending height. */
export const WIND_PROFILES = ['direct', 'two-step'] as const;
export type WindProfile = (typeof WIND_PROFILES)[number];

/** What keeps the wind off, in a word. */
export const SHELTER_WORDS = ['open', 'grassy', 'hedged', 'wooded', 'hollow'] as const;
export type ShelterWord = (typeof SHELTER_WORDS)[number];

/** Forms of the ground. `crest` is that of a long ridge. Valleys and hollows never speed the wind up. */
export const LANDFORM_KINDS = ['flat', 'crest', 'hill', 'escarpment', 'valley', 'hollow'] as const;
export type LandformKind = (typeof LANDFORM_KINDS)[number];

/** The form of the ground and its size. */
export interface LandformAtSite {
  readonly kind: LandformKind;
  /** From foot to top [m], at least 0. */
  readonly heightM: number;
  /** From the top to where the ground is half as high [m], above 0. */
  readonly halfLengthM: number;
  /** Straight across it, upslope, from north, clockwise [°, 0 to 360]; null or left out where not known. */
  readonly bearingDeg?: number | null;
}

/** A plant at a place. */
export interface PlantPlace extends PlaceOnEarth {
  /** Height of the flower above ground [m], above 0, at most 10. */
  readonly plantHeightM: number;
  /** Height of the stand around it [m], 0 to 40. */
  readonly vegetationHeightM: number;
  readonly profile: WindProfile;
  readonly landform: LandformAtSite;
  readonly shelter: ShelterWord;
  /** The hedge, wall or wood's edge nearest to it; null or left out for none. */
  readonly barrier?: BarrierAtPlant | null;
  /** Steepness of the ground [°, 0 to 89] and where it falls to [°, 0 to 360]; null or left out where not known. */
  readonly slopeDeg?: number | null;
  readonly aspectDeg?: number | null;
  /** What stands round it; null or left out for an open horizon. */
  readonly horizon?: HorizonProfile | null;
  /** What this site's wind was found to be against what is worked out for it [1], and from what; null or left out. */
  readonly learnedWind?: { readonly factor: number; readonly basis: string } | null;
}

/** A flower half-way up a low meadow on open, level ground: what stands in where nobody said. Ours. */
export const USUAL_PLANT = {
  plantHeightM: 0.25,
  vegetationHeightM: 0.3,
  profile: 'two-step',
  landform: { kind: 'flat', heightM: 0, halfLengthM: 100 },
  shelter: 'open',
} as const satisfies Omit<PlantPlace, keyof PlaceOnEarth>;

/** A landform that is named without its size: a low one. Ours. */
export function usualLandform(kind: LandformKind): LandformAtSite {
  return { kind, heightM: kind === 'flat' ? 0 : 20, halfLengthM: 100 };
}

/** A hedge of which only some is known: 2 m high, half of it gaps, 10 m away, long. Ours. */
export const USUAL_BARRIER = { heightM: 2, porosity: 0.5, distanceM: 10, halfLengthM: null } as const;

/** The horizon that counts at the place: the higher of its own slope's and of what stands round; null where open. */
export function horizonOfPlace(place: PlantPlace): HorizonProfile | null {
  const { slopeDeg = null, aspectDeg = null, horizon = null } = place;
  const round = horizon === null || horizon.length === 0 ? null : horizon;
  if (slopeDeg === null || aspectDeg === null || slopeDeg === 0) return round;
  const slope = horizonOfSlope({ slopeDeg: Math.min(89, slopeDeg), aspectDeg });
  return round === null ? slope : higherHorizon(slope, round);
}

/** Checks what concerns the plant; the place itself is checked where the sun is computed. @throws DomainError */
export function requirePlant(place: PlantPlace): void {
  const height = { what: 'a height', unit: 'm' };
  const bearing = { what: 'a bearing', unit: 'degrees from north', min: 0, max: 360 };
  const length = { what: 'a length', unit: 'm', min: 0, minExclusive: true, max: 50_000 };
  requireInRange('plantHeightM', place.plantHeightM, { ...height, min: 0, minExclusive: true, max: 10 });
  requireInRange('vegetationHeightM', place.vegetationHeightM, { ...height, min: 0, max: 40 });
  requireOneOf('profile', place.profile, WIND_PROFILES);
  requireOneOf('shelter', place.shelter, SHELTER_WORDS);
  const { landform, barrier = null, slopeDeg = null, aspectDeg = null, horizon = null } = place;
  requireOneOf('landform', landform.kind, LANDFORM_KINDS);
  requireInRange('landform.heightM', landform.heightM, { ...height, min: 0, max: 5000 });
  requireInRange('landform.halfLengthM', landform.halfLengthM, length);
  const across = landform.bearingDeg ?? null;
  if (across !== null) requireInRange('landform.bearingDeg', across, bearing);
  if (barrier !== null) {
    requireInRange('barrier.heightM', barrier.heightM, { ...height, min: 0.2, max: 60 });
    requireInRange('barrier.porosity', barrier.porosity, { what: 'a share of gaps', min: 0, max: 1 });
    requireInRange('barrier.distanceM', barrier.distanceM, length);
    requireInRange('barrier.bearingDeg', barrier.bearingDeg, bearing);
    if (barrier.halfLengthM !== null) requireInRange('barrier.halfLengthM', barrier.halfLengthM, length);
  }
  const learned = place.learnedWind ?? null;
  if (learned !== null) requireInRange('learnedWind.factor', learned.factor, { min: 0.05, max: 5 });
  const slope = { what: 'a slope', unit: 'degrees', min: 0, max: 90 };
  if (slopeDeg !== null) requireInRange('slopeDeg', slopeDeg, slope);
  if (aspectDeg !== null) requireInRange('aspectDeg', aspectDeg, bearing);
  for (const altitude of horizon ?? [])
    requireInRange('horizon', altitude, { ...slope, what: 'an altitude' });
  if (place.profile === 'direct' && place.vegetationHeightM > 8) {
    throw new DomainError(
      'outOfRange',
      'a height in m of at most 8 with the profile direct (above that use two-step)',
      'vegetationHeightM',
      place.vegetationHeightM,
    );
  }
}
