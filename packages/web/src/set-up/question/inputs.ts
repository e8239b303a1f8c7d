/** What the photographer says at the subject, in steps that a thumb can take. */
import type { CameraUse } from '@tepal/advice';
import type { InsectClass, ReflectorSurface, StemClass, Support } from '@tepal/science';
import { windOfWord } from '../../words/wind.ts';

export interface Kit {
  readonly sensorWidthMm: number;
  readonly sensorHeightMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalLengthMm: number;
  readonly minFNumber: number;
  readonly maxFNumber: number;
}

/** Where the light is known from: as it looks (or from the hour), a meter reading, or a test shot. */
export const LIGHTS_FROM = ['look', 'metered', 'testShot'] as const;
export type LightFrom = (typeof LIGHTS_FROM)[number];

export interface SetUpInputs {
  readonly kit: Kit;
  readonly magnification: number;
  readonly subjectDepthMm: number;
  readonly backgroundMm: number;
  readonly lightFrom: LightFrom;
  /** Light on the scene [EV at ISO 100], where it is known by its look. */
  readonly ev100: number;
  /** What the meter read, or the test shot was set to; marked values. */
  readonly read: { readonly fNumber: number; readonly exposureTimeS: number; readonly iso: number };
  /** How much too bright the test shot came out [stops]; below 0 too dark. */
  readonly brighterByStops: number;
  readonly reflector: ReflectorSurface | 'none';
  readonly reflectorMm: number;
  readonly reflectorAwayMm: number;
  readonly diffuser: 'none' | 'held';
  readonly diffuserMm: number;
  readonly diffuserAwayMm: number;
  /** Wind at the plant [m/s]. */
  readonly windMs: number;
  /** Sway as watched; both null where the wind says it. */
  readonly swayAmplitudeMm: number | null;
  readonly swayFrequencyHz: number | null;
  readonly stem: StemClass;
  readonly insect: InsectClass | 'none';
  readonly support: Support;
  readonly stabilisation: number;
  readonly camera: CameraUse;
  /** Null leaves both to the advice. */
  readonly slowestShutterS: number | null;
  readonly isoCeiling: number | null;
  /** Frames that one is willing to take for one that is sharp. */
  readonly frames: number;
  /** What it is delivered as: its longer side, and from where it is looked at [mm]. */
  readonly printMm: number;
  readonly viewedFromMm: number;
  /** The notebook's subject that this is; '' for none. */
  readonly subjectId: string;
  /** Values that stand as given; null leaves them to the advice. */
  readonly fNumber: number | null;
  readonly exposureTimeS: number | null;
  readonly iso: number | null;
}

/** A current full-frame camera with a 100 mm close-up lens, until the kit is told. */
export const firstInputs: SetUpInputs = {
  kit: {
    sensorWidthMm: 36,
    sensorHeightMm: 24,
    widthPx: 6000,
    heightPx: 4000,
    focalLengthMm: 100,
    minFNumber: 2.8,
    maxFNumber: 22,
  },
  magnification: 1 / 3,
  subjectDepthMm: 8,
  backgroundMm: 400,
  lightFrom: 'look',
  ev100: 12,
  read: { fNumber: 8, exposureTimeS: 1 / 250, iso: 800 },
  brighterByStops: 0,
  reflector: 'none',
  reflectorMm: 300,
  reflectorAwayMm: 200,
  diffuser: 'none',
  diffuserMm: 300,
  diffuserAwayMm: 200,
  windMs: windOfWord.stirring,
  swayAmplitudeMm: null,
  swayFrequencyHz: null,
  stem: 'medium',
  insect: 'none',
  support: 'kneeling',
  stabilisation: 0,
  camera: 'aperturePreferred',
  slowestShutterS: null,
  isoCeiling: null,
  frames: 15,
  printMm: 420,
  viewedFromMm: 300,
  subjectId: '',
  fNumber: null,
  exposureTimeS: null,
  iso: null,
};
