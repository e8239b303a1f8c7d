/**
 * The dials of a camera in third stops: what is engraved, and the value that is meant. f/5.6 is 2^(5/2), 1/250 is
 * 1/256 s, ISO 125 is 100 x 2^(1/3).
 */
import { requirePositive } from '../../domain-error.ts';

/** One position of a dial. */
export interface DialPosition {
  /** Third stops from the dial's origin: f/1, 1 s, ISO 100. Towards less light for f and t, more gain for ISO. */
  readonly thirds: number;
  /** As engraved: f-number, seconds, or ISO. */
  readonly marked: number;
  /** The value meant. */
  readonly exact: number;
}

const F_MARKS = [
  1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11, 13, 14, 16,
  18, 20, 22, 25, 29, 32, 36, 40, 45, 51, 57, 64,
];

/** Seconds as engraved, then denominators of 1/x s. */
const T_MARKS_SLOW = [30, 25, 20, 15, 13, 10, 8, 6, 5, 4, 3.2, 2.5, 2, 1.6, 1.3, 1, 0.8, 0.6, 0.5, 0.4, 0.3];
const T_MARKS_FAST = [
  4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000,
  1250, 1600, 2000, 2500, 3200, 4000, 5000, 6400, 8000,
];

const ISO_MARKS = [
  50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000,
  5000, 6400, 8000, 10000, 12800, 16000, 20000, 25600, 32000, 40000, 51200, 64000, 80000, 102400,
];

/** f/1 to f/64. */
export const F_NUMBER_DIAL: readonly DialPosition[] = F_MARKS.map((marked, thirds) => ({
  thirds,
  marked,
  exact: 2 ** (thirds / 6),
}));

/** 30 s to 1/8000 s, slowest first; the exact times are powers of 2^(1/3) s (30 s is 32 s, 1/250 s is 1/256 s). */
export const SHUTTER_DIAL: readonly DialPosition[] = [
  ...T_MARKS_SLOW,
  ...T_MARKS_FAST.map((denominator) => 1 / denominator),
].map((marked, i) => ({ thirds: i - 15, marked, exact: 2 ** ((15 - i) / 3) }));

/** ISO 50 to 102400. */
export const ISO_DIAL: readonly DialPosition[] = ISO_MARKS.map((marked, i) => ({
  thirds: i - 3,
  marked,
  exact: 100 * 2 ** ((i - 3) / 3),
}));

/**
 * The position of a dial nearest to a value, by ratio: where a marked value lies on the dial, that position.
 *
 * @param value marked or exact value, > 0
 * @throws DomainError
 */
export function nearestDialPosition(dial: readonly DialPosition[], value: number): DialPosition {
  requirePositive('value', value);
  const marked = dial.find((position) => Math.abs(position.marked - value) <= 1e-9 * value);
  if (marked !== undefined) return marked;
  return dial.reduce((best, position) =>
    Math.abs(Math.log(position.exact / value)) < Math.abs(Math.log(best.exact / value)) ? position : best,
  );
}

/**
 * What is meant by a marked value: the exact value where the dial has that mark, else the value itself.
 *
 * @throws DomainError
 */
export function exactOfMarked(dial: readonly DialPosition[], marked: number): number {
  const nearest = nearestDialPosition(dial, marked);
  return Math.abs(nearest.marked - marked) <= 1e-3 * marked ? nearest.exact : marked;
}

/** A shutter time as a photographer writes it: "1/250 s", "0.5 s", "2 s". @throws DomainError */
export function shutterInWords(seconds: number): string {
  const t = requirePositive('seconds', seconds, 's');
  return t < 0.28 ? `1/${Math.round(1 / t)} s` : `${Number(t.toPrecision(2))} s`;
}
