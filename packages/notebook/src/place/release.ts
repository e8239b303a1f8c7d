/**
 * The one way by which a place leaves the house. Everything is withheld unless it is asked for; what harms by being
 * known is generalised by the published grids, always to the same cell, never by chance.
 */
import { cellOfPlace, generalisingStepsDeg, type GeneralisingStep } from '@tepal/science';
import type { Sensitivity } from '../kept/subject.ts';
import { unseal, type PrivatePlace } from './private-place.ts';

/** Who gets it. A confidential export goes to one named recipient and is confirmed each time. */
export type Audience =
  | 'public'
  | 'club'
  | 'recorder'
  | 'ownDevices'
  | 'backup'
  | { readonly confidential: string; readonly confirmed: true };

/** How much of the place is asked for. */
export type PlaceWish = 'none' | 'region' | 'coarse' | 'exact';

declare const released: unique symbol;

/** A place as it may be written down. Only `release` makes one; every writer of places accepts nothing else. */
export interface ReleasedPlace {
  readonly [released]: true;
  readonly kind: 'withheld' | 'region' | 'cell' | 'exact';
  /** WGS84 [deg]: of the place itself if exact, else of the cell's middle. */
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  /** Above mean sea level [m]; of an exact place only. */
  readonly altitudeM?: number;
  /** Radius that holds the true place [m]. */
  readonly coordinateUncertaintyInMeters?: number;
  /** The grid's step [deg]. */
  readonly coordinatePrecision?: number;
  /** The wider area by name. */
  readonly regionName?: string;
  /** Darwin Core: how it was made less exact. */
  readonly dataGeneralizations?: string;
  /** Darwin Core: what was left out; null if nothing was. */
  readonly informationWithheld: string | null;
  /** The rule by which it was decided, in words. */
  readonly rule: string;
  /** Whether its receiver is one of the named exceptions, to whom nothing of the place is secret. */
  readonly trusted: boolean;
}

/** What release answers: the place as it may go out, or why the wish is refused. */
export type ReleaseAnswer =
  | { readonly ok: true; readonly place: ReleasedPlace }
  | { readonly ok: false; readonly refusal: 'exactOfSensitive' | 'notConfirmed'; readonly why: string };

const made = new WeakSet<object>();

/** Whether a value came out of `release` in this run. A copy did not. */
export function isReleasedPlace(value: unknown): value is ReleasedPlace {
  return typeof value === 'object' && value !== null && made.has(value);
}

function approve(
  place: Omit<ReleasedPlace, typeof released | 'trusted'>,
  trusted = false,
): {
  readonly ok: true;
  readonly place: ReleasedPlace;
} {
  const frozen = Object.freeze({ ...place, trusted }) as ReleasedPlace;
  made.add(frozen);
  return { ok: true, place: frozen };
}

/** What is asked. */
export interface ReleaseRequest {
  readonly audience: Audience;
  /** Left out: nothing, everything is secret. */
  readonly wish?: PlaceWish;
  /** The subject's; null if the photographer was not asked yet, which counts as medium. */
  readonly sensitivity: Sensitivity | null;
}

/** The grids' steps [deg], after Chapman 2020, categories 2 to 4. */
const GRID_STEPS_DEG = { high: 0.1, medium: 0.01, low: 0.001 } as const;

/** The step for a place that needs no care but is wished coarse: about 1 km. */
const COARSE_STEP_DEG = 0.01;

/**
 * The place as the audience may have it.
 *
 * - a wish of `none`, or no wish: withheld, whoever asks
 * - own devices, a backup, a confirmed confidential recipient: as wished
 * - others, subject not sensitive: as wished
 * - others, subject sensitive: `coarse` gives the published grid's cell (high 0.1, medium 0.01, low 0.001 degree),
 *   `region` the cell of one degree; extreme gives no coordinates at all; `exact` is refused
 *
 * A cell smaller than the place's own uncertainty would be a false claim: then the next coarser one is given.
 *
 * @source Chapman 2020, Current Best Practices for Generalizing Sensitive Species Occurrence Data (FS 8.3)
 */
export function release(place: PrivatePlace, request: ReleaseRequest): ReleaseAnswer {
  const { audience, wish = 'none' } = request;
  const trusted = isTrusted(audience);
  if (trusted === null) {
    return {
      ok: false,
      refusal: 'notConfirmed',
      why: 'A confidential export needs the name of its recipient and your confirmation, each time.',
    };
  }
  if (wish === 'none') return withheld('Secret by default: no place was asked for.', null);
  const sensitivity = trusted ? 'none' : (request.sensitivity ?? 'medium');
  const because =
    request.sensitivity === null && !trusted
      ? 'nobody said yet how sensitive the subject is, so it counts as medium'
      : `the subject's sensitivity is ${sensitivity}`;
  if (wish === 'exact') {
    if (sensitivity === 'none') return exact(place, trusted);
    return {
      ok: false,
      refusal: 'exactOfSensitive',
      why: `The exact place is refused: ${because}. Ask for a coarse place or a region, or export it confidentially to a named recipient.`,
    };
  }
  const { regionName } = unseal(place);
  if (sensitivity === 'extreme') {
    return withheld(`No coordinates leave the house: ${because}.`, wish === 'region' ? regionName : null);
  }
  if (wish === 'region') return cell(place, 1, 'Region: the cell of one degree.', regionName);
  return sensitivity === 'none'
    ? cell(place, COARSE_STEP_DEG, 'A coarse place was asked for.', null)
    : cell(place, GRID_STEPS_DEG[sensitivity], `Published grid: ${because}.`, null);
}

/** The place of a record whose place nobody noted: nothing to give, and nothing withheld. */
export function noPlaceNoted(): ReleasedPlace {
  return approve({ kind: 'withheld', informationWithheld: null, rule: 'No place was noted.' }).place;
}

/** Whether the exact place may go there; null if it is a confidential export that nobody confirmed. */
function isTrusted(audience: Audience): boolean | null {
  if (typeof audience === 'string') return audience === 'ownDevices' || audience === 'backup';
  const confirmed: unknown = audience.confirmed;
  return confirmed === true && audience.confidential.trim() !== '' ? true : null;
}

function withheld(rule: string, regionName: string | null): ReleaseAnswer {
  const kind = regionName === null ? 'withheld' : 'region';
  return approve({
    kind,
    ...(regionName === null ? {} : { regionName }),
    informationWithheld: 'Coordinates and the name of the place are withheld; ask the recorder.',
    rule,
  });
}

function exact(place: PrivatePlace, trusted: boolean): ReleaseAnswer {
  const { position, regionName } = unseal(place);
  const { latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM } = position;
  const told = {
    kind: 'exact',
    latitudeDeg,
    longitudeDeg,
    ...(altitudeM === null ? {} : { altitudeM }),
    ...(coordinateUncertaintyM === null ? {} : { coordinateUncertaintyInMeters: coordinateUncertaintyM }),
    ...(regionName === null ? {} : { regionName }),
    informationWithheld: null,
    rule: trusted
      ? 'Named exception: the exact place.'
      : 'The exact place was asked for; the subject is not sensitive.',
  } as const;
  return approve(told, trusted);
}

function cell(
  place: PrivatePlace,
  finestDeg: GeneralisingStep,
  rule: string,
  regionName: string | null,
): ReleaseAnswer {
  const { position } = unseal(place);
  const known = position.coordinateUncertaintyM ?? 0;
  const steps = generalisingStepsDeg.filter((step) => step >= finestDeg).reverse();
  for (const step of steps) {
    const found = cellOfPlace(position, step);
    if (known > found.uncertaintyM) continue;
    return approve({
      kind: step === 1 ? 'region' : 'cell',
      latitudeDeg: found.centre.latitudeDeg,
      longitudeDeg: found.centre.longitudeDeg,
      coordinateUncertaintyInMeters: found.uncertaintyM,
      coordinatePrecision: step,
      ...(regionName === null ? {} : { regionName }),
      dataGeneralizations: `Coordinates generalised to the centre of a geographic grid cell of ${step} degree.`,
      informationWithheld: 'The exact coordinates and the name of the place are withheld; ask the recorder.',
      rule,
    });
  }
  return withheld('The place is known less exactly than the coarsest grid.', regionName);
}
