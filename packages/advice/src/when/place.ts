/** What the hours are computed for: a place, a plant in its stand, and what keeps the wind off. */
import { DomainError, requireInRange, requireOneOf, type PlaceOnEarth } from '@tepal/science';

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
}

/** A flower half-way up a low meadow on open, level ground: what stands in where nobody said. Ours. */
export const USUAL_PLANT = {
  plantHeightM: 0.25,
  vegetationHeightM: 0.3,
  profile: 'two-step',
  landform: { kind: 'flat', heightM: 0, halfLengthM: 100 },
  shelter: 'open',
} as const satisfies Omit<PlantPlace, keyof PlaceOnEarth>;

/** Checks what concerns the plant; the place itself is checked where the sun is computed. @throws DomainError */
export function requirePlant(place: PlantPlace): void {
  const height = { what: 'a height', unit: 'm' };
  requireInRange('plantHeightM', place.plantHeightM, { ...height, min: 0, minExclusive: true, max: 10 });
  requireInRange('vegetationHeightM', place.vegetationHeightM, { ...height, min: 0, max: 40 });
  requireOneOf('profile', place.profile, WIND_PROFILES);
  requireOneOf('shelter', place.shelter, SHELTER_WORDS);
  requireOneOf('landform', place.landform.kind, LANDFORM_KINDS);
  requireInRange('landform.heightM', place.landform.heightM, { ...height, min: 0, max: 5000 });
  requireInRange('landform.halfLengthM', place.landform.halfLengthM, {
    what: 'a length',
    unit: 'm',
    min: 0,
    minExclusive: true,
    max: 50_000,
  });
  if (place.profile === 'direct' && place.vegetationHeightM > 8) {
    throw new DomainError(
      'outOfRange',
      'a height in m of at most 8 with the profile direct (above that use two-step)',
      'vegetationHeightM',
      place.vegetationHeightM,
    );
  }
}
