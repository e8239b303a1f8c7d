/** The steps of the steppers; each list rises. */
import {
  F_NUMBER_DIAL,
  ISO_DIAL,
  nearestDialPosition,
  SHUTTER_DIAL,
  type DialPosition,
} from '@tepal/science';
import { windOfWord } from '../../words/wind.ts';

const marks = (dial: readonly DialPosition[]) => dial.map(({ marked }) => marked).toSorted((a, b) => a - b);

/** Every mark of the three dials. */
export const dials = {
  fNumbers: marks(F_NUMBER_DIAL),
  timesS: marks(SHUTTER_DIAL),
  isos: marks(ISO_DIAL),
} as const;

/** The mark nearest to an exact value. */
export const nearestMark = {
  fNumber: (f: number) => nearestDialPosition(F_NUMBER_DIAL, f).marked,
  timeS: (s: number) => nearestDialPosition(SHUTTER_DIAL, s).marked,
  iso: (iso: number) => nearestDialPosition(ISO_DIAL, iso).marked,
} as const;

const words = Object.values(windOfWord);

export const steps = {
  magnification: [1 / 10, 1 / 7, 1 / 5, 1 / 4, 1 / 3, 1 / 2.5, 1 / 2, 1 / 1.5, 1, 1.5, 2],
  /** What is as wide as the frame [mm]; from it the magnification. */
  fieldWidthMm: [12, 15, 18, 20, 24, 30, 36, 40, 50, 60, 72, 80, 90, 100, 120, 150, 180, 240, 300, 360, 500],
  subjectDepthMm: [1, 2, 3, 4, 6, 8, 10, 12, 15, 20, 30, 50],
  backgroundMm: [50, 100, 200, 300, 400, 600, 1000, 2000, 4000, 10_000],
  ev100: [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16],
  brighterByStops: [-3, -2.5, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, 2.5, 3],
  boardMm: [100, 150, 200, 300, 400, 500, 800, 1000],
  awayMm: [50, 100, 150, 200, 300, 400, 600, 1000],
  windMs: words,
  windFinelyMs: [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8],
  stabilisation: [0, 1, 2, 3, 4, 5, 6, 7],
  frames: [1, 3, 5, 10, 15, 20, 30, 50, 100, 200],
  printMm: [150, 210, 297, 420, 594, 841, 1189, 2000],
  viewedFromMm: [250, 300, 400, 500, 700, 1000, 1500, 2000, 4000],
  headMm: [3, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150],
  travelHeads: [0.1, 0.2, 0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6],
  focusDistanceMm: [200, 250, 280, 300, 320, 350, 400, 450, 500, 600, 700, 800, 1000, 1500, 2000],
  temperatureC: Array.from({ length: 61 }, (_, i) => i - 15),
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
