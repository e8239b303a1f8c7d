/** A site as its form says it. What is left empty is not known, and nothing is assumed for it here. */
import type { Landform, Position, Site, SiteBarrier } from '@tepal/notebook';
import { textOf, typedNumbers } from './typed-number.ts';

export const SHELTER_MEANINGS = {
  open: 'nothing near that keeps the wind off',
  grassy: 'tall grass around, else open',
  hedged: 'a hedge or bank on one side or more',
  wooded: 'among trees',
  hollow: 'in a dip of the ground',
} as const satisfies Record<NonNullable<Site['shelter']>, string>;

export const LANDFORM_MEANINGS = {
  flat: 'level ground',
  crest: 'on a ridge',
  hill: 'on a hill that stands alone',
  escarpment: 'at the edge of a step',
  valley: 'in a valley',
  hollow: 'in a hollow',
} as const satisfies Record<Landform['kind'], string>;

export const DIRECTIONS = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
] as const;

/** Degrees from north, clockwise, of a direction in words; null for none. */
export function directionDeg(word: string): number | null {
  const at = DIRECTIONS.findIndex((direction) => direction === word);
  return at < 0 ? null : at * 45;
}

export const directionWord = (deg: number | null | undefined): string =>
  deg === null || deg === undefined ? '' : (DIRECTIONS[Math.round(deg / 45) % 8] ?? '');

const numbers = {
  altitudeM: 'altitude in m',
  slopeDeg: 'slope in degrees',
  vegetationHeightM: 'height of the vegetation in m',
  landformHeightM: 'height of the landform in m',
  landformHalfLengthM: 'half-length of the landform in m',
  barrierHeightM: 'height of the hedge in m',
  barrierDistanceM: 'distance of the hedge in m',
  barrierLengthM: 'length of the hedge in m',
} as const;

/** A hedge that a form gives only in part: half of it gaps. Common practice, no source. */
const usualGaps = 0.5;
/** A landform named without its size: low. */
const usualLandform = { heightM: 20, halfLengthM: 100 };

export type SiteOfForm =
  { readonly ok: true; readonly site: Site } | { readonly ok: false; readonly message: string };

/**
 * @param before the site that is edited, or null for a new one
 * @param position as read from its field
 */
export function siteOfForm(
  data: FormData,
  {
    id,
    before,
    position,
  }: { readonly id: string; readonly before: Site | null; readonly position: Position },
): SiteOfForm {
  const read = typedNumbers(data, numbers);
  if (!read.ok) return read;
  const typed = read.values;
  const shelter = (Object.keys(SHELTER_MEANINGS) as NonNullable<Site['shelter']>[]).find(
    (word) => word === textOf(data, 'shelter'),
  );
  const kind = (Object.keys(LANDFORM_MEANINGS) as Landform['kind'][]).find(
    (word) => word === textOf(data, 'landform'),
  );
  const barrier = barrierOf(data, typed);
  if (typeof barrier === 'string') return { ok: false, message: barrier };
  return {
    ok: true,
    site: {
      ...(before ?? { region: null, notes: '' }),
      id,
      name: textOf(data, 'name'),
      position: { ...position, altitudeM: typed.altitudeM ?? position.altitudeM },
      shelter: shelter ?? null,
      slopeDeg: typed.slopeDeg,
      aspectDeg: directionDeg(textOf(data, 'aspect')),
      vegetationHeightM: typed.vegetationHeightM,
      landform:
        kind === undefined
          ? null
          : {
              kind,
              heightM: kind === 'flat' ? 0 : (typed.landformHeightM ?? usualLandform.heightM),
              halfLengthM: typed.landformHalfLengthM ?? usualLandform.halfLengthM,
              bearingDeg: directionDeg(textOf(data, 'landformBearing')) ?? 0,
            },
      barrier,
      access: textOf(data, 'access'),
      cautions: textOf(data, 'cautions')
        .split('\n')
        .map((line) => line.trim())
        .filter((line) => line !== ''),
    },
  };
}

function barrierOf(
  data: FormData,
  typed: Readonly<Record<keyof typeof numbers, number | null>>,
): SiteBarrier | null | string {
  const { barrierHeightM: heightM, barrierDistanceM: distanceM, barrierLengthM: lengthM } = typed;
  const bearingDeg = directionDeg(textOf(data, 'barrierBearing'));
  if (heightM === null && distanceM === null && bearingDeg === null) return null;
  if (heightM === null || distanceM === null || bearingDeg === null) {
    return 'A hedge needs its height, its distance from the plant, and the direction in which it lies.';
  }
  const gaps = Number(textOf(data, 'barrierGaps'));
  return {
    ...{ heightM, distanceM, bearingDeg },
    porosity: Number.isFinite(gaps) && textOf(data, 'barrierGaps') !== '' ? gaps : usualGaps,
    halfLengthM: lengthM === null ? null : lengthM / 2,
  };
}
