/** What the photographer says at the subject, in steps that a thumb can take, and the question it makes. */
import type { ExposureRequest } from '@tepal/advice';
import type { Support, StemClass } from '@tepal/science';
import { windOfWord } from '../words/wind.ts';

export interface Kit {
  readonly sensorWidthMm: number;
  readonly sensorHeightMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalLengthMm: number;
  readonly minFNumber: number;
  readonly maxFNumber: number;
}

export interface SetUpInputs {
  readonly kit: Kit;
  readonly magnification: number;
  readonly subjectDepthMm: number;
  readonly backgroundMm: number;
  /** Light on the scene [EV at ISO 100]. */
  readonly ev100: number;
  /** Wind at the plant [m/s]. */
  readonly windMs: number;
  readonly support: Support;
  readonly stem: StemClass;
  readonly stabilisation: number;
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
  ev100: 12,
  windMs: windOfWord.stirring,
  support: 'kneeling',
  stem: 'medium',
  stabilisation: 0,
  fNumber: null,
  exposureTimeS: null,
  iso: null,
};

/** The steps of the steppers; each list rises. */
export const steps = {
  magnification: [1 / 10, 1 / 7, 1 / 5, 1 / 4, 1 / 3, 1 / 2.5, 1 / 2, 1 / 1.5, 1, 1.5, 2],
  subjectDepthMm: [1, 2, 3, 4, 6, 8, 10, 12, 15, 20, 30, 50],
  backgroundMm: [50, 100, 200, 300, 400, 600, 1000, 2000, 4000, 10_000],
  ev100: [5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16],
  windMs: Object.values(windOfWord),
  stabilisation: [0, 1, 2, 3, 4, 5, 6, 7],
} as const;

/**
 * The next step from a value, which may lie between two.
 *
 * @param list rising
 * @param value where one stands
 * @param by +1 or -1
 * @returns the value itself where there is no further step
 */
export function stepFrom(list: readonly number[], value: number, by: 1 | -1): number {
  const slack = Math.abs(value) * 1e-6 + 1e-12;
  const next =
    by === 1 ? list.find((one) => one > value + slack) : list.findLast((one) => one < value - slack);
  return next ?? value;
}

/** The question that the inputs make. */
export function requestFrom(inputs: SetUpInputs): ExposureRequest {
  const { kit, fNumber, exposureTimeS, iso } = inputs;
  return {
    sensor: { widthMm: kit.sensorWidthMm, heightMm: kit.sensorHeightMm },
    pixels: { width: kit.widthPx, height: kit.heightPx },
    lens: { focalLengthMm: kit.focalLengthMm, minFNumber: kit.minFNumber, maxFNumber: kit.maxFNumber },
    magnification: inputs.magnification,
    subjectDepthMm: inputs.subjectDepthMm,
    backgroundMm: inputs.backgroundMm,
    light: { kind: 'ev100', ev100: inputs.ev100 },
    windMs: inputs.windMs,
    stem: inputs.stem,
    support: inputs.support,
    stabilisation: inputs.stabilisation,
    fix: {
      ...(fNumber === null ? {} : { fNumber }),
      ...(exposureTimeS === null ? {} : { exposureTimeS }),
      ...(iso === null ? {} : { iso }),
    },
  };
}
