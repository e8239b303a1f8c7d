/**
 * The law of a frame's excess blur: a sum of three weighted squares of standard normal variables, over its mean.
 *
 *   G = a Z1^2 + (1 - a)/2 [(1 + b) Z2^2 + (1 - b) Z3^2]      a share of the placement, b imbalance of the two axes
 *
 * Worked out once on a grid of a and b from the exact distribution, as the mass in even steps of log G; between the
 * grid's points the logs of the masses are joined by cubics.
 */
import { probabilityWithin } from '../camera/frames/quadratic-form.ts';

/** Steps of log G. */
export const LOG_STEP = 0.2;
const FROM = -7;
/** Middles of the steps, as log G and G; the lowest step holds everything below it. */
export const EXCESS_LOGS: readonly number[] = Array.from({ length: 62 }, (_, i) => FROM + i * LOG_STEP);
export const EXCESSES: readonly number[] = EXCESS_LOGS.map(Math.exp);
const STEPS = EXCESS_LOGS.length;

/** a = sin^2 of even angles, b = sin of even angles: the law changes fastest where a part vanishes. */
const SHARES = 13;
const IMBALANCES = 9;
const QUARTER = Math.PI / 2;

/** Below this chance on either side the inversion has no digits left, and the law's own limits take over. */
const DIGITS = 3e-5;

/** Beyond this G no frame of the model lies in practice, and one that does must not outvote the others. */
const FAR = 12;

let table: Float64Array | null = null;

/** The table, made when it is first asked for. */
function laws(): Float64Array {
  if (table !== null) return table;
  const made = new Float64Array(SHARES * IMBALANCES * STEPS);
  for (let i = 0; i < SHARES; i++) {
    for (let j = 0; j < IMBALANCES; j++) {
      const a = Math.sin((QUARTER * i) / (SHARES - 1)) ** 2;
      const b = Math.sin((QUARTER * j) / (IMBALANCES - 1));
      made.set(logMasses(a, b), (i * IMBALANCES + j) * STEPS);
    }
  }
  table = made;
  return made;
}

function logMasses(a: number, b: number): Float64Array {
  const weights = [a, ((1 - a) * (1 + b)) / 2, ((1 - a) * (1 - b)) / 2];
  const parts = weights.filter((weight) => weight > 1e-6).length;
  const below = Array.from({ length: STEPS + 1 }, (_, i) =>
    i === 0 ? 0 : probabilityWithin(weights, Math.exp(FROM + (i - 0.5) * LOG_STEP)),
  );
  const logs = new Float64Array(STEPS).fill(Number.NaN);
  let first = -1;
  let last = -1;
  for (let i = 0; i < STEPS; i++) {
    if (below[i + 1]! < DIGITS || 1 - below[i + 1]! < DIGITS || EXCESSES[i]! > FAR) continue;
    if (first < 0) first = i;
    last = i;
    logs[i] = Math.log(below[i + 1]! - below[i]!);
  }
  // Near nothing the mass falls as G^(parts/2); far out, by a power of G that goes on as the law had begun to fall.
  for (let i = first - 1; i >= 0; i--) logs[i] = logs[first]! - ((first - i) * LOG_STEP * parts) / 2;
  const fall = logs[last]! - logs[last - 1]!;
  for (let i = last + 1; i < STEPS; i++) logs[i] = logs[i - 1]! + fall;
  return logs;
}

/**
 * The logs of the masses at a share and an imbalance, in some of the steps.
 *
 * @param share a [0..1]
 * @param imbalance b [0..1]
 * @param first first step, @param last last step, within the table
 * @param into at least as long as the table; written from `first` to `last`
 */
export function writeLogMasses(
  share: number,
  imbalance: number,
  first: number,
  last: number,
  into: Float64Array,
): void {
  const all = laws();
  const u = (Math.asin(Math.sqrt(clamped(share))) / QUARTER) * (SHARES - 1);
  const v = (Math.asin(clamped(imbalance)) / QUARTER) * (IMBALANCES - 1);
  const along = cubic(u, SHARES);
  const across = cubic(v, IMBALANCES);
  into.fill(0, first, last + 1);
  for (let p = 0; p < 4; p++) {
    for (let q = 0; q < 4; q++) {
      const factor = along.factors[p]! * across.factors[q]!;
      if (factor === 0) continue;
      const row = (along.indices[p]! * IMBALANCES + across.indices[q]!) * STEPS;
      for (let step = first; step <= last; step++) into[step]! += factor * all[row + step]!;
    }
  }
}

/** Catmull and Rom's cubic: four neighbours with their factors; at the ends the outer one is mirrored. */
function cubic(x: number, count: number): { readonly indices: number[]; readonly factors: number[] } {
  const i = Math.min(count - 2, Math.floor(x));
  const t = x - i;
  return {
    indices: [mirrored(i - 1, count), i, i + 1, mirrored(i + 2, count)],
    factors: [
      -0.5 * t + t * t - 0.5 * t * t * t,
      1 - 2.5 * t * t + 1.5 * t * t * t,
      0.5 * t + 2 * t * t - 1.5 * t * t * t,
      -0.5 * t * t + 0.5 * t * t * t,
    ],
  };
}

const mirrored = (i: number, count: number): number => (i < 0 ? -i : i >= count ? 2 * (count - 1) - i : i);
const clamped = (x: number): number => Math.min(1, Math.max(0, x));
