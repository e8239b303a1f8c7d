/** The sway of a head from where frames found it: what it did over those frames, and what is behind it. */
import { DomainError, requireFinite, requirePositive } from '../../../domain-error.ts';
import { periodogram, type PeriodogramPeak } from './periodogram.ts';
import { explainPath, smoothPath, type SeenPath, type SwingModel } from './swing-path.ts';
import { swingMode, swingPosterior, type SwingMode, type SwingPoint } from './swing-posterior.ts';

/** Displacements in one unit of length; x right and y down, as in a picture. */
export interface Displacements {
  /** Moments [s], rising; uneven ones tell more. */
  readonly timesS: readonly number[];
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** A number of the process with its 90 % interval. */
export interface WithInterval {
  readonly median: number;
  readonly interval90: readonly [number, number];
}

/** Numbers in the unit of the displacements, and that per second. */
export interface ObservedSway {
  /** Standard deviation about the mean and a slow, linear lean. */
  readonly displacement: number;
  /** sqrt2 times that: the even swing of the same spread. */
  readonly amplitude: number;
  readonly speed: number;
  /** speed / (2 pi displacement) [Hz]. */
  readonly frequencyHz: number;
}

/** What the head does in the long run, in this wind. */
export interface SwayProcess {
  readonly displacement: WithInterval;
  readonly frequencyHz: WithInterval;
  readonly speed: WithInterval;
}

/** Direction of the swing in the picture, and the share of its variance along it. */
export interface SwingDirection {
  /** From the x axis, counter-clockwise as seen [0..180). */
  readonly directionDeg: number;
  /** 0.5 as much across as along, to 1 all along [1]. */
  readonly shareAlong: number;
}

/** What the frames tell of the sway. */
export type WatchedPath = SwingDirection & {
  /** Standard deviation of displacement as measured, errors included [unit of the displacements]. */
  readonly measuredDisplacement: number;
} & (
    | {
        readonly kind: 'swing';
        readonly observed: ObservedSway;
        readonly process: SwayProcess;
        /** Faster swings that frames at these moments cannot tell from it [Hz]; empty when none is possible. */
        readonly lookAlikesHz: readonly number[];
      }
    | { readonly kind: 'ambiguous'; readonly candidatesHz: readonly number[] }
    | { readonly kind: 'none'; readonly why: 'tooFewFrames' | 'tooShort' | 'noSwing' }
  );

/** No flower head is known to sway faster: published plants lie from 0.5 to 2.5 Hz [FS 4.1, from memory there]. */
export const FASTEST_SWAY_HZ = 6;
/** With fewer moments there are about as many unknowns as numbers. */
export const LEAST_MOMENTS = 8;
/** Periods that must have been seen. */
const LEAST_PERIODS = 2;
/** Slower swings than this many frames to a period may be faster ones in disguise. */
const FRAMES_A_PERIOD = 4;
/** By so much in log likelihood may another frequency be worse and still stand (odds of about 20). */
const AS_GOOD = 3;
/** A sinusoid is never told better than to this share of its variance. */
const LEAST_LEFT = 0.002;
/** Errors alone: the swing is a millionth of them. */
const NOISE: SwingModel = { frequencyHz: 1, damping: 0.5, errorShare: 1e6 };
/** By so much in log likelihood must a swing explain the path better than errors alone. */
const STANDS_OUT = 7;

/**
 * The sway behind displacements: along the direction of the greatest spread, a damped oscillator driven by noise, its
 * frequency sought by the generalised Lomb-Scargle periodogram, then by its likelihood at the moments themselves.
 *
 * `observed` is the motion over these frames, errors taken out; `process` what is behind it. Eight periods tell the
 * second to no better than a third or so: the wind might have blown otherwise. A frequency that the frames are too rare
 * to tell from a faster one is `ambiguous`, with all that fit; where frames are close but even, the faster ones stand
 * in `lookAlikesHz`. The motion during an exposure, and any along the line of sight, are left out.
 *
 * @param options.fastestHz highest frequency thought of [Hz], > 0
 * @throws DomainError for moments that do not rise, arrays of different length, or numbers that are not finite
 * @source Zechmeister & Kürster 2009; Jones 1981; de Langre 2008 for the oscillator (all from memory)
 */
export function swayOfDisplacements(
  displacements: Displacements,
  options: { readonly fastestHz?: number } = {},
): WatchedPath {
  const fastestHz = requirePositive('fastestHz', options.fastestHz ?? FASTEST_SWAY_HZ, 'Hz');
  checkDisplacements(displacements);
  const { path, direction } = alongSwing(displacements);
  const n = path.along.length;
  const measured = Math.sqrt(path.along.reduce((sum, value) => sum + value * value, 0) / Math.max(1, n - 1));
  const common = { ...direction, measuredDisplacement: measured };
  const spanS = n > 0 ? path.timesS[n - 1]! - path.timesS[0]! : 0;
  const none = (why: 'tooFewFrames' | 'tooShort' | 'noSwing') => ({ ...common, kind: 'none' as const, why });
  if (n < LEAST_MOMENTS) return none('tooFewFrames');
  const lowestHz = LEAST_PERIODS / spanS;
  if (!(measured > 0)) return none('noSwing');
  if (lowestHz >= fastestHz) return none('tooShort');
  const gaps = Array.from(path.timesS.subarray(1), (t, i) => t - path.timesS[i]!).sort((a, b) => a - b);
  const gapS = gaps[gaps.length >> 1]!;
  const alike = alikeHz(periodogram(path, 0.5 * lowestHz, fastestHz), n, spanS, gapS);
  const [slowestHz, ...others] = alike;
  if (slowestHz === undefined) return none('noSwing');
  const mode = swingMode(path, slowestHz);
  const { model } = mode;
  if (explainPath(path, model).logLikelihood < explainPath(path, NOISE).logLikelihood + STANDS_OUT)
    return none('noSwing');
  if (model.frequencyHz < lowestHz) return none('tooShort');
  if (others.length > 0 && 1 / (slowestHz * gapS) < FRAMES_A_PERIOD) {
    return { ...common, kind: 'ambiguous', candidatesHz: alike };
  }
  return {
    ...common,
    kind: 'swing',
    observed: observedSway(path, mode),
    process: processOf(swingPosterior(path, mode)),
    lookAlikesHz: others,
  };
}

function checkDisplacements({ timesS, x, y }: Displacements): void {
  if (x.length !== timesS.length || y.length !== timesS.length) {
    throw new DomainError(
      'outOfRange',
      `${timesS.length} numbers each`,
      'x and y',
      `${x.length}, ${y.length}`,
    );
  }
  x.forEach((value) => requireFinite('x', value));
  y.forEach((value) => requireFinite('y', value));
  timesS.forEach((t, i) => {
    requireFinite('timesS', t, 's');
    if (i > 0 && !(t > timesS[i - 1]!)) {
      throw new DomainError('wrongOrder', 'moments in s, each after the one before', 'timesS', t);
    }
  });
}

/** The path along the axis of greatest spread, its mean and its slow lean taken out. */
function alongSwing({ timesS, x, y }: Displacements): { path: SeenPath; direction: SwingDirection } {
  const times = Float64Array.from(timesS);
  const [u, v] = [levelled(times, x), levelled(times, y)];
  let [xx, xy, yy] = [0, 0, 0];
  u.forEach((value, i) => {
    xx += value * value;
    xy += value * v[i]!;
    yy += v[i]! * v[i]!;
  });
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = u.map((value, i) => c * value + s * v[i]!);
  const whole = xx + yy;
  const most = whole / 2 + Math.hypot((xx - yy) / 2, xy);
  const seenDeg = (-angle * 180) / Math.PI;
  return {
    path: { timesS: times, along },
    direction: { directionDeg: (seenDeg + 180) % 180, shareAlong: whole > 0 ? most / whole : 1 },
  };
}

function levelled(times: Float64Array, values: readonly number[]): Float64Array {
  const n = times.length;
  const meanTime = times.reduce((sum, t) => sum + t, 0) / n;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  let [tt, ty] = [0, 0];
  times.forEach((t, i) => {
    tt += (t - meanTime) ** 2;
    ty += (t - meanTime) * (values[i]! - mean);
  });
  const slope = tt > 0 ? ty / tt : 0;
  return times.map((t, i) => values[i]! - mean - slope * (t - meanTime));
}

/**
 * The strongest frequency and those that a frame every `gapS` cannot tell from it, k / gap +- f, slowest first: at
 * uneven moments their power is less, and they drop out.
 */
function alikeHz(peaks: readonly PeriodogramPeak[], n: number, spanS: number, gapS: number): number[] {
  const [best] = peaks;
  if (best === undefined) return [];
  const left = ({ power }: PeriodogramPeak) => 1 - power + LEAST_LEFT;
  return peaks
    .filter((peak) => {
      if (peak === best) return true;
      if ((n / 2) * Math.log(left(peak) / left(best)) > AS_GOOD) return false;
      return [peak.frequencyHz - best.frequencyHz, peak.frequencyHz + best.frequencyHz].some((folds) => {
        const k = Math.round(folds * gapS);
        return k !== 0 && Math.abs(folds - k / gapS) < 1 / spanS;
      });
    })
    .map(({ frequencyHz }) => frequencyHz)
    .sort((a, b) => a - b);
}

function observedSway(path: SeenPath, { model }: SwingMode): ObservedSway {
  const { meanSquare, meanSquareSpeed } = smoothPath(path, model);
  const displacement = Math.sqrt(meanSquare);
  const speed = Math.sqrt(meanSquareSpeed);
  return {
    ...{ displacement, speed },
    amplitude: Math.SQRT2 * displacement,
    frequencyHz: speed / (2 * Math.PI * displacement),
  };
}

function processOf(points: readonly SwingPoint[]): SwayProcess {
  return {
    displacement: quantiles(points, ({ displacement }) => displacement),
    frequencyHz: quantiles(points, ({ frequencyHz }) => frequencyHz),
    speed: quantiles(points, ({ displacement, frequencyHz }) => 2 * Math.PI * frequencyHz * displacement),
  };
}

function quantiles(points: readonly SwingPoint[], of: (point: SwingPoint) => number): WithInterval {
  const sorted = points.map((point) => [of(point), point.weight] as const).sort((a, b) => a[0] - b[0]);
  const whole = sorted.reduce((sum, [, weight]) => sum + weight, 0);
  const at = (share: number): number => {
    let sum = 0;
    for (const [value, weight] of sorted) {
      sum += weight;
      if (sum >= share * whole) return value;
    }
    return sorted[sorted.length - 1]![0];
  };
  return { median: at(0.5), interval90: [at(0.05), at(0.95)] };
}
