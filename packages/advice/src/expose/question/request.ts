/** What is asked of the exposure advice, checked once at the door. */
import {
  DEFAULT_DELIVERY,
  DomainError,
  exactOfMarked,
  F_NUMBER_DIAL,
  INSECT_CLASSES,
  requireInRange,
  requireInteger,
  requireNotNegative,
  requireOneOf,
  requirePositive,
  STEM_CLASSES,
  SUPPORTS,
  type CameraMotion,
  type Delivery,
  type InsectClass,
  type StemClass,
  type Support,
} from '@tepal/science';
import type { LightModifiers } from './light-modifiers.ts';
import { ev100OfReading, lossToAdd, type LightReading } from './light.ts';

/**
 * How the camera is used. `aperturePreferred`: it holds the slowest shutter that it is told by raising ISO up to a
 * ceiling. `manual`: all three are set by hand.
 */
export const CAMERA_USES = ['aperturePreferred', 'manual'] as const;
export type CameraUse = (typeof CAMERA_USES)[number];

/** What frames taught of a motion: how it compares with the typical one. What `learn` finds can be handed in as it is. */
export interface KnownFactor {
  /** Of the true motion over the typical one [1], > 0. */
  readonly median: number;
  /** Standard deviation of its logarithm [1], >= 0. */
  readonly logSpread: number;
  /** Frames behind it; 0 where nothing was measured yet. */
  readonly frames: number;
}

/** Settings that stand as given; marked values. */
export interface FixedSettings {
  readonly fNumber?: number;
  readonly exposureTimeS?: number;
  readonly iso?: number;
}

/** The photographer's question. Lengths in mm, times in s; what may be left out says what is then taken. */
export interface ExposureRequest {
  readonly sensor: { readonly widthMm: number; readonly heightMm: number };
  readonly pixels: { readonly width: number; readonly height: number };
  readonly lens: {
    readonly focalLengthMm: number;
    /** 1 unless said. */
    readonly pupilMagnification?: number;
    /** Marked; 2.8 unless said. */
    readonly minFNumber?: number;
    /** Marked; 32 unless said. */
    readonly maxFNumber?: number;
    /** Front of the lens to the sensor at this magnification; the working distance is unknown without it. */
    readonly frontToSensorMm?: number;
  };
  readonly magnification: number;
  readonly subjectDepthMm: number;
  /** Background behind the plane of focus. */
  readonly backgroundMm: number;
  readonly light: LightReading;
  /** Wind at the plant [m/s]; the plant is taken as still when neither this nor `sway` is given. */
  readonly windMs?: number;
  /** `medium` unless said. */
  readonly stem?: StemClass;
  /** Sway as seen, across the view; counts instead of wind and stem. */
  readonly sway?: { readonly amplitudeMm: number; readonly frequencyHz: number };
  /** An insect on the plant that must be sharp; it moves with the plant and of itself. */
  readonly insect?: InsectClass;
  /** `kneeling` unless said. */
  readonly support?: Support;
  /** The photographer's own figures instead of the typical ones of the support. */
  readonly hands?: CameraMotion;
  /** A reflector or a diffuser held to the light; they change no setting, only what is told of the light. */
  readonly modifiers?: LightModifiers;
  /** What earlier frames taught, against what is typical: hands on this support, placement of the focus, plant, wind. */
  readonly learned?: {
    readonly hands?: KnownFactor;
    readonly placement?: KnownFactor;
    readonly plant?: KnownFactor;
    readonly wind?: KnownFactor;
  };
  /** Rated stops; 0 unless said. */
  readonly stabilisation?: number;
  readonly fix?: FixedSettings;
  /** `aperturePreferred` unless said. */
  readonly camera?: CameraUse;
  /** Frames that one is willing to take for one that is sharp; 15 unless said. */
  readonly frames?: number;
  /** 420 x 280 mm from 300 mm unless said. */
  readonly delivery?: Delivery;
  /** The slowest shutter to be used: 1/30 s in the hand and 1 s on a rest unless said. */
  readonly slowestShutterS?: number;
  /** Highest ISO to be used; what the delivery bears unless said. */
  readonly isoCeiling?: number;
  /** Time between frames, for the count of correlated frames. */
  readonly intervalS?: number;
}

/** The question with every choice made. */
export interface CheckedRequest extends ExposureRequest {
  readonly pupilMagnification: number;
  /** Exact, not marked. */
  readonly minFNumber: number;
  readonly maxFNumber: number;
  readonly ev100: number;
  /** Whether the light lost by focusing close has still to be added. */
  readonly lossToAdd: boolean;
  readonly stem: StemClass;
  readonly support: Support;
  readonly stabilisation: number;
  readonly delivery: Delivery;
  readonly slowestShutterS: number;
  readonly fix: FixedSettings;
  readonly camera: CameraUse;
  readonly frames: number;
}

const IN_HAND_SLOWEST_S = 1 / 30;
const ON_REST_SLOWEST_S = 1;
/** A few short bursts. Common practice (3 to 5 a burst, 10 to 38 a subject), no source. */
const WILLING_FRAMES = 15;

/**
 * Checks a question and fills in what was left out.
 *
 * @throws DomainError with one sentence that names the field, what was found and what is accepted
 */
export function checkedRequest(request: ExposureRequest): CheckedRequest {
  const { lens, light } = request;
  requirePositive('sensor.widthMm', request.sensor.widthMm, 'mm');
  requirePositive('sensor.heightMm', request.sensor.heightMm, 'mm');
  requireInRange('pixels.width', request.pixels.width, { min: 16, max: 1e6 });
  requireInRange('pixels.height', request.pixels.height, { min: 16, max: 1e6 });
  requireInRange('focal', lens.focalLengthMm, { what: 'a focal length', unit: 'mm', min: 1, max: 5000 });
  requireInRange('magnification', request.magnification, { what: 'a magnification', min: 0.001, max: 20 });
  requireNotNegative('subjectDepthMm', request.subjectDepthMm, 'mm');
  requireNotNegative('backgroundMm', request.backgroundMm, 'mm');
  const pupilMagnification = requireInRange('pupil', lens.pupilMagnification ?? 1, { min: 0.05, max: 20 });
  const minFNumber = fNumber('minF', lens.minFNumber ?? 2.8);
  const maxFNumber = fNumber('maxF', lens.maxFNumber ?? 32);
  if (!(maxFNumber >= minFNumber)) {
    throw new DomainError(
      'wrongOrder',
      `an f-number of at least min-f ${lens.minFNumber ?? 2.8}`,
      'maxF',
      lens.maxFNumber,
    );
  }
  if (request.windMs !== undefined) {
    requireInRange('wind', request.windMs, { what: 'a wind speed', unit: 'm/s', min: 0, max: 40 });
  }
  if (request.sway !== undefined) {
    requireInRange('swayMm', request.sway.amplitudeMm, {
      what: 'an amplitude',
      unit: 'mm',
      min: 0,
      max: 2000,
    });
    requireInRange('swayHz', request.sway.frequencyHz, { what: 'a frequency', unit: 'Hz', min: 0, max: 100 });
  }
  if (request.isoCeiling !== undefined) {
    requireInRange('isoCeiling', request.isoCeiling, { what: 'an ISO', min: 25, max: 1e7 });
  }
  if (request.insect !== undefined) requireOneOf('insect', request.insect, INSECT_CLASSES);
  requireLearned(request);
  if (request.intervalS !== undefined) requireNotNegative('intervalS', request.intervalS, 's');
  const support = requireOneOf('support', request.support ?? 'kneeling', SUPPORTS);
  const onRest = support === 'tripod' || support === 'beanbag';
  const checked: CheckedRequest = {
    ...request,
    pupilMagnification,
    minFNumber,
    maxFNumber,
    ev100: requireInRange('light', ev100OfReading(light), {
      what: 'a light',
      unit: 'EV at ISO 100',
      min: -10,
      max: 22,
    }),
    lossToAdd: lossToAdd(light),
    stem: requireOneOf('stem', request.stem ?? 'medium', STEM_CLASSES),
    support,
    stabilisation: requireInRange('stabilisation', request.stabilisation ?? 0, {
      unit: 'stops',
      min: 0,
      max: 10,
    }),
    delivery: request.delivery ?? DEFAULT_DELIVERY,
    slowestShutterS: requirePositive(
      'slowestShutterS',
      request.slowestShutterS ?? (onRest ? ON_REST_SLOWEST_S : IN_HAND_SLOWEST_S),
      's',
    ),
    fix: request.fix ?? {},
    camera: requireOneOf('camera', request.camera ?? 'aperturePreferred', CAMERA_USES),
    frames: requireInteger('frames', request.frames ?? WILLING_FRAMES, { min: 1, max: 10_000 }),
  };
  requireFix(checked);
  return checked;
}

function requireLearned({ learned = {} }: ExposureRequest): void {
  for (const [name, known] of Object.entries(learned)) {
    requireInRange(`learned.${name}.median`, known.median, { what: 'a factor', min: 0.01, max: 100 });
    requireInRange(`learned.${name}.logSpread`, known.logSpread, { min: 0, max: 5 });
    requireInteger(`learned.${name}.frames`, known.frames, { min: 0 });
  }
}

function requireFix({ fix, minFNumber, maxFNumber, lens }: CheckedRequest): void {
  if (fix.fNumber !== undefined) {
    const N = fNumber('fix f', fix.fNumber);
    if (!(N >= minFNumber * 0.999 && N <= maxFNumber * 1.001)) {
      const range = `an f-number from ${lens.minFNumber ?? 2.8} to ${lens.maxFNumber ?? 32}, which the lens has,`;
      throw new DomainError('outOfRange', range, 'fix f', fix.fNumber);
    }
  }
  if (fix.exposureTimeS !== undefined) {
    requireInRange('fix t', fix.exposureTimeS, { what: 'an exposure time', unit: 's', min: 1e-5, max: 3600 });
  }
  if (fix.iso !== undefined) requireInRange('fix iso', fix.iso, { what: 'an ISO', min: 1, max: 1e7 });
}

function fNumber(name: string, marked: number): number {
  requireInRange(name, marked, { what: 'an f-number', min: 0.5, max: 128 });
  return exactOfMarked(F_NUMBER_DIAL, marked);
}
