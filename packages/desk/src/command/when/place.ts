/** The place of `tepal when` from its options. */
import {
  USUAL_BARRIER,
  USUAL_PLANT,
  usualLandform,
  type LandformKind,
  type PlantPlace,
  type ShelterWord,
  type WindProfile,
} from '@tepal/advice';
import type { Forecast } from '@tepal/formats';
import { horizonThroughPoints, type HorizonPoint } from '@tepal/science';
import { InvalidArgumentError } from 'commander';
import { DeskFault } from '../../files/faults.ts';

export interface PlaceOptions {
  readonly lat?: number;
  readonly lon?: number;
  readonly altitude?: number;
  readonly heightAboveGround?: number;
  readonly vegetationHeight?: number;
  readonly profile?: WindProfile;
  readonly landform?: LandformKind;
  readonly landformHeight?: number;
  readonly landformHalfLength?: number;
  readonly landformBearing?: number;
  readonly shelter?: ShelterWord;
  readonly hedgeBearing?: number;
  readonly hedgeHeight?: number;
  readonly hedgeDistance?: number;
  readonly hedgeGaps?: number;
  readonly hedgeHalfLength?: number;
  readonly slope?: number;
  readonly aspect?: number;
  readonly horizon?: readonly HorizonPoint[];
}

/** "90:12,180:5" as points of the horizon. */
export function asHorizon(text: string): readonly HorizonPoint[] {
  return text.split(',').map((part) => {
    const [azimuth, altitude, ...more] = part
      .split(':')
      .map((one) => (one.trim() === '' ? NaN : Number(one)));
    const within = (value: number | undefined, most: number): value is number =>
      value !== undefined && value >= 0 && value <= most;
    if (more.length > 0 || !within(azimuth, 360) || !within(altitude, 90)) {
      throw new InvalidArgumentError(
        `expected azimuth:altitude in degrees, such as 90:12,180:5, but received ${text}.`,
      );
    }
    return { azimuthDeg: azimuth, altitudeDeg: altitude };
  });
}

/** The place where nothing is kept: the usual plant with what the options say of it. @throws DeskFault without one */
export function placeFromOptions(options: PlaceOptions, forecast: Forecast): PlantPlace {
  const { lat, lon } = options;
  if (lat === undefined || lon === undefined) {
    throw new DeskFault('Where? Give --lat and --lon in degrees, or --notebook and --site.');
  }
  return {
    ...USUAL_PLANT,
    latitudeDeg: lat,
    longitudeDeg: lon,
    altitudeM: forecast.altitudeM ?? 0,
    ...placeGiven(options),
  };
}

/** What of a place the options say, and nothing else. */
export function placeGiven(options: PlaceOptions): Partial<PlantPlace> {
  const { landform, hedgeBearing, horizon } = options;
  requireWhole(options);
  return {
    ...(options.altitude === undefined ? {} : { altitudeM: options.altitude }),
    ...(options.heightAboveGround === undefined ? {} : { plantHeightM: options.heightAboveGround }),
    ...(options.vegetationHeight === undefined ? {} : { vegetationHeightM: options.vegetationHeight }),
    ...(options.profile === undefined ? {} : { profile: options.profile }),
    ...(options.shelter === undefined ? {} : { shelter: options.shelter }),
    ...(landform === undefined ? {} : { landform: landformGiven(landform, options) }),
    ...(hedgeBearing === undefined ? {} : { barrier: barrierGiven(hedgeBearing, options) }),
    ...(options.slope === undefined ? {} : { slopeDeg: options.slope }),
    ...(options.aspect === undefined ? {} : { aspectDeg: options.aspect }),
    ...(horizon === undefined ? {} : { horizon: horizonThroughPoints(horizon) }),
  };
}

/** Options that mean nothing without another. */
function requireWhole(options: PlaceOptions): void {
  const { hedgeHeight, hedgeDistance, hedgeGaps, hedgeHalfLength } = options;
  const hedge = [hedgeHeight, hedgeDistance, hedgeGaps, hedgeHalfLength];
  if (options.hedgeBearing === undefined && hedge.some((value) => value !== undefined)) {
    throw new DeskFault('Where does the hedge lie? Give --hedge-bearing in degrees from north.');
  }
  if ((options.slope === undefined) !== (options.aspect === undefined)) {
    throw new DeskFault('A slope needs both --slope and --aspect in degrees.');
  }
}

function landformGiven(kind: LandformKind, options: PlaceOptions): PlantPlace['landform'] {
  const usual = usualLandform(kind);
  return {
    kind,
    heightM: options.landformHeight ?? usual.heightM,
    halfLengthM: options.landformHalfLength ?? usual.halfLengthM,
    bearingDeg: options.landformBearing ?? null,
  };
}

function barrierGiven(bearingDeg: number, options: PlaceOptions): NonNullable<PlantPlace['barrier']> {
  return {
    bearingDeg,
    heightM: options.hedgeHeight ?? USUAL_BARRIER.heightM,
    distanceM: options.hedgeDistance ?? USUAL_BARRIER.distanceM,
    porosity: options.hedgeGaps ?? USUAL_BARRIER.porosity,
    halfLengthM: options.hedgeHalfLength ?? USUAL_BARRIER.halfLengthM,
  };
}
