/** The round blur and the streak that make a spectrum likeliest. */
import {
  DIRECTIONS,
  ROUND_SIGMAS,
  roundLogs,
  STREAK_LENGTHS,
  streakLogs,
  type RoundShape,
} from './blur-shapes.ts';
import type { SceneLikelihood } from './scene-spectrum.ts';

/** A blur of the grid: which sigma, which length and which direction (image coordinates, half sectors). */
interface GridBlur {
  readonly shape: RoundShape;
  readonly round: number;
  readonly streak: number;
  readonly direction: number;
}

/** A blur with its log-likelihood and how far it may be off. */
export interface FoundBlur {
  readonly shape: RoundShape;
  readonly roundSigmaPx: number;
  readonly streakPx: number;
  /** From the x axis, counter-clockwise as seen [0..180). */
  readonly directionDeg: number;
  readonly logLikelihood: number;
  /** Standard error of the natural logarithm of the worst axis' sigma. */
  readonly relativeError: number;
}

/** A disc has zeros that a scene can imitate: it must be so much likelier than a Gaussian. */
const DISC_HANDICAP = 1.5;

/** Photographs are seldom finer than pixel, filter and lens allow: below this sigma [px] a blur is less likely. */
const FINEST_USUAL = 0.5;
const FINER_SCATTER = 0.2;

const SHAPES: readonly RoundShape[] = ['gaussian', 'disc'];
const FIRST_STREAKS = [4, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25];
const FIRST_ROUNDS = [6, 17];

/**
 * @returns the likeliest round blur, and the likeliest blur with a streak in it
 */
export function searchBlur(likelihood: SceneLikelihood): {
  readonly round: FoundBlur;
  readonly moved: FoundBlur;
} {
  const known = new Map<number, number>();
  const value = (blur: GridBlur): number => {
    const { shape, round, streak, direction } = blur;
    const disc = shape === 'disc';
    const key = ((Number(disc) * 64 + round) * 64 + streak) * 64 + direction;
    const found = known.get(key);
    if (found !== undefined) return found;
    const logs = roundLogs(shape, round);
    const result =
      logs === null
        ? -Infinity
        : likelihood(logs, (sector) => streakOf(streak, direction, sector)) -
          (disc ? DISC_HANDICAP : 0) -
          tooFine(ROUND_SIGMAS[round]!);
    known.set(key, result);
    return result;
  };
  const better = (a: GridBlur, b: GridBlur) => (value(b) > value(a) ? b : a);

  const rounds = SHAPES.flatMap((shape) =>
    ROUND_SIGMAS.map((_, round): GridBlur => ({ shape, round, streak: 0, direction: 0 })),
  );
  const round = rounds.reduce(better);

  const seeds = FIRST_STREAKS.flatMap((streak) =>
    Array.from({ length: DIRECTIONS }, (_, i) => i).flatMap((direction) =>
      FIRST_ROUNDS.map((at): GridBlur => ({ shape: 'gaussian', round: at, streak, direction })),
    ),
  ).sort((a, b) => value(b) - value(a));
  const climbed = distinct(seeds, 4).flatMap((seed) =>
    SHAPES.map((shape) => climb({ ...seed, shape }, better)),
  );
  const moved = climbed.reduce(better);
  return { round: refined(round, value), moved: refined(moved, value) };
}

function tooFine(sigma: number): number {
  return sigma < FINEST_USUAL ? (Math.log(FINEST_USUAL / sigma) / FINER_SCATTER) ** 2 / 2 : 0;
}

/** The best few of different directions. */
function distinct(seeds: readonly GridBlur[], count: number): GridBlur[] {
  const chosen: GridBlur[] = [];
  for (const seed of seeds) {
    if (chosen.length === count) break;
    if (chosen.every((other) => turnsApart(other.direction, seed.direction) > 2)) chosen.push(seed);
  }
  return chosen;
}

function turnsApart(a: number, b: number): number {
  const apart = Math.abs(a - b) % DIRECTIONS;
  return Math.min(apart, DIRECTIONS - apart);
}

function streakOf(streak: number, direction: number, sector: number): Float64Array {
  return streakLogs(streak, turnsApart(2 * sector, direction));
}

/** Uphill by one or more steps of each coordinate in turn until nothing gains. */
function climb(start: GridBlur, better: (a: GridBlur, b: GridBlur) => GridBlur): GridBlur {
  let at = start.shape === 'disc' ? { ...start, round: Math.max(start.round, 7) } : start;
  for (;;) {
    const before = at;
    for (const step of [4, 2, 1, -1, -2, -4]) {
      at = better(at, { ...at, round: within(at.round + step, 0, ROUND_SIGMAS.length - 1) });
      at = better(at, { ...at, streak: within(at.streak + step, 1, STREAK_LENGTHS.length - 1) });
      at = better(at, { ...at, direction: (at.direction + step + DIRECTIONS) % DIRECTIONS });
      // A shorter streak in a rounder blur leaves the worst axis as it is.
      at = better(at, {
        ...at,
        round: within(at.round + step, 0, ROUND_SIGMAS.length - 1),
        streak: within(at.streak - step, 1, STREAK_LENGTHS.length - 1),
      });
    }
    if (at === before) return at;
  }
}

const within = (value: number, least: number, most: number) => Math.min(most, Math.max(least, value));

/** Between the points of the grid: the top of the parabola through three of them, and its width. */
function refined(blur: GridBlur, value: (blur: GridBlur) => number): FoundBlur {
  const round = top(blur.round, ROUND_SIGMAS.length - 1, (i) => value({ ...blur, round: i }));
  const streak =
    blur.streak === 0
      ? { offset: 0, width: 0 }
      : top(blur.streak, STREAK_LENGTHS.length - 1, (i) =>
          i < 1 ? -Infinity : value({ ...blur, streak: i }),
        );
  const direction =
    blur.streak === 0
      ? { offset: 0 }
      : top(blur.direction, Infinity, (i) => value({ ...blur, direction: (i + DIRECTIONS) % DIRECTIONS }));
  const roundSigmaPx = ROUND_SIGMAS[blur.round]! * 1.1 ** round.offset;
  const streakPx = STREAK_LENGTHS[blur.streak]! * 1.125 ** streak.offset;
  const [roundVariance, streakVariance] = [roundSigmaPx ** 2, streakPx ** 2 / 12];
  const errorOfVariance = Math.hypot(
    2 * roundVariance * Math.log(1.1) * round.width,
    2 * streakVariance * Math.log(1.125) * streak.width,
  );
  const directionDeg = -((blur.direction + direction.offset) * 180) / DIRECTIONS;
  return {
    shape: blur.shape,
    roundSigmaPx,
    streakPx,
    directionDeg: ((directionDeg % 180) + 180) % 180,
    logLikelihood: value(blur),
    relativeError: errorOfVariance / (2 * (roundVariance + streakVariance)),
  };
}

/** Offset of the top from `at` [-0.5..0.5] and standard deviation, in steps of the grid. */
function top(at: number, last: number, valueAt: (i: number) => number): { offset: number; width: number } {
  const middle = valueAt(at);
  const left = at > 0 || last === Infinity ? valueAt(at - 1) : -Infinity;
  const right = at < last ? valueAt(at + 1) : -Infinity;
  if (!Number.isFinite(left) || !Number.isFinite(right)) {
    const drop = middle - Math.max(left, right);
    return { offset: 0, width: drop > 0 ? 1 / Math.sqrt(2 * drop) : 2 };
  }
  const curvature = 2 * middle - left - right;
  if (!(curvature > 1e-6)) return { offset: 0, width: 5 };
  return {
    offset: Math.min(0.5, Math.max(-0.5, (right - left) / (2 * curvature))),
    width: Math.min(5, 1 / Math.sqrt(curvature)),
  };
}
