/**
 * How likely a measured blur is, given what the frame's blur is made of.
 *
 * A frame's variance is a floor F (lens, diffraction, pixel, the making of the file) and an excess X, a weighted sum of
 * squares of normal variables: focus placement, the vertical axis of the camera, and its horizontal axis with the
 * subject. What is measured is the root of the whole with a relative error:
 *
 *   y = log sigma = 1/2 log(F + X) + e      e ~ N(0, tau^2)
 */
import { requireInRange, requireNotNegative, requirePositive } from '../domain-error.ts';
import { normalDistribution } from '../camera/frames/normal.ts';
import { EXCESS_LOGS, EXCESSES, LOG_STEP, writeLogMasses } from './excess-law.ts';

/** Mean variances of one frame, all in one unit. */
export interface BlurShares {
  /** F, what is there even when nothing moves and the focus is right; > 0. */
  readonly floor: number;
  /** Of the plane of focus about the point; one normal variable. */
  readonly placement: number;
  /** Of the camera, both axes together; `cameraEven` of it turns within the exposure instead of passing. */
  readonly camera: number;
  readonly cameraEven: number;
  /** Of the subject, on the horizontal axis. */
  readonly subject: number;
  readonly subjectEven: number;
}

/** The excess over the floor. */
export interface BlurExcess {
  /** In the unit of the shares; >= 0. */
  readonly mean: number;
  /** What of the mean the placement makes [0..1]. */
  readonly placementShare: number;
  /** Horizontal less vertical over their sum, of the motion [0..1]. */
  readonly imbalance: number;
}

/**
 * The excess as three squares. What turns within the exposure counts with what passes on the same axis: for exposures
 * up to a tenth of a period it is below a hundredth of it.
 */
export function blurExcess(shares: BlurShares): BlurExcess {
  const { placement, camera, subject } = shares;
  const mean = placement + camera + subject;
  return {
    mean,
    placementShare: mean > 0 ? placement / mean : 0,
    imbalance: camera + subject > 0 ? subject / (camera + subject) : 0,
  };
}

/** Written and read within one call. */
const logMasses = new Float64Array(EXCESSES.length);

/** Deviations beyond which the error of measurement is not looked for. */
const REACH = 5;
/** A blur far out in the law's tail is likelier an error upon a lesser one. */
const REACH_DOWN = 8;
/** Beyond so many deviations the error is taken as wider than normal, so that one odd frame cannot outvote the rest. */
const NORMAL_TO = 3;

/**
 * Log of the density of y at a measured blur.
 *
 * @param logSigma y, natural log of the measured sigma in the root of the shares' unit
 * @param spread tau, standard deviation of the log of the measurement [1], 0.02 to 1
 * @param floor F, > 0
 * @throws DomainError
 */
export function logChanceOfBlur(logSigma: number, spread: number, floor: number, excess: BlurExcess): number {
  const tau = requireInRange('spread', spread, { min: 0.02, max: 1 });
  const F = requirePositive('floor', floor);
  const mean = requireNotNegative('excess.mean', excess.mean);
  const reached = (z: number): number => stepOf((Math.exp(2 * (logSigma + z * tau)) - F) / mean);
  const first = Math.min(EXCESSES.length - 1, Math.max(0, reached(-REACH_DOWN)));
  // Where the blur lies far below its floor, what hardly exceeds the floor is still the likeliest.
  const last = Math.min(EXCESSES.length - 1, Math.max(reached(REACH), stepOf(F / mean), 8));
  writeLogMasses(excess.placementShare, excess.imbalance, first, last, logMasses);
  let most = -Infinity;
  for (let i = first; i <= last; i++) {
    const z = Math.abs(logSigma - 0.5 * Math.log(F + mean * EXCESSES[i]!)) / tau;
    const log = logMasses[i]! - (z < NORMAL_TO ? 0.5 * z * z : NORMAL_TO * (z - NORMAL_TO / 2));
    logMasses[i] = log;
    if (log > most) most = log;
  }
  let sum = 0;
  for (let i = first; i <= last; i++) sum += Math.exp(logMasses[i]! - most);
  return most + Math.log(sum / (tau * Math.sqrt(2 * Math.PI)));
}

/**
 * Chance that the measured blur lies above a limit.
 *
 * @param logLimit natural log of the limit, as `logSigma`
 * @returns 0 to 1
 * @throws DomainError
 */
export function chanceBlurAbove(logLimit: number, spread: number, floor: number, excess: BlurExcess): number {
  const tau = requireInRange('spread', spread, { min: 0.02, max: 1 });
  const F = requirePositive('floor', floor);
  const mean = requireNotNegative('excess.mean', excess.mean);
  writeLogMasses(excess.placementShare, excess.imbalance, 0, EXCESSES.length - 1, logMasses);
  let above = 0;
  let all = 0;
  for (let i = 0; i < EXCESSES.length; i++) {
    const mass = Math.exp(logMasses[i]!);
    all += mass;
    const z = (0.5 * Math.log(F + mean * EXCESSES[i]!) - logLimit) / tau;
    if (z > -REACH && mass > 1e-12) above += mass * (z > REACH ? 1 : normalDistribution(z));
  }
  return Math.min(1, above / all);
}

/**
 * Of an excess x that one normal variable (mean `single`) and two of a motion (mean `motion`) made together, the chance
 * that the single one made more than half. The motion counts as a gamma variable of shape k = 1/(1 + b^2), b the
 * imbalance of its axes: exact for one axis and for two alike.
 *
 *   R = int from 1/2 to 1 / int from 0 to 1 of u^(-1/2) (1 - u)^(k - 1) exp(-a u)      a = x (1/(2 single) - k/motion)
 *
 * @param imbalance b [0..1]
 * @returns 0 to 1; rises with `single`, falls with `motion`
 * @throws DomainError
 */
export function chanceSingleMadeMore(
  excess: number,
  single: number,
  motion: number,
  imbalance: number,
): number {
  const x = requireNotNegative('excess', excess);
  const s = requireNotNegative('single', single);
  const m = requireNotNegative('motion', motion);
  const b = requireInRange('imbalance', imbalance, { min: 0, max: 1 });
  if (s < 1e-9 * m || s === 0) return 0;
  if (m < 1e-9 * s) return 1;
  const k = 1 / (1 + b * b);
  const a = Math.min(40, Math.max(-40, believable(x, s + m) * (1 / (2 * s) - k / m)));
  // u = sin^2 takes the roots away: cos^(2k - 1) exp(-a sin^2).
  const lower = halfOfCircle(0, a, 2 * k - 1);
  const upper = halfOfCircle(ANGLES / 2, a, 2 * k - 1);
  return upper / (upper + lower);
}

/**
 * Of a motion in which a subject (variance `subject`, on the horizontal axis) and a camera (variance `camera`, half of
 * it on that axis) added up, the chance that the subject's part is the larger. Given their sum A on the axis, the
 * subject's part is normal about A s/(s + c/2), with variance s (c/2)/(s + c/2).
 *
 * @param motion x, the motion's variance as found; A^2 is taken as its share of the axis
 * @returns 0 to 1
 * @throws DomainError
 */
export function chanceSubjectMadeMore(motion: number, subject: number, camera: number): number {
  const x = requireNotNegative('motion', motion);
  const s = requireNotNegative('subject', subject);
  const half = requireNotNegative('camera', camera) / 2;
  if (s < 1e-9 * half || s === 0) return 0;
  if (half < 1e-9 * s) return 1;
  const A = Math.sqrt((believable(x, s + 2 * half) * (s + half)) / (s + 2 * half));
  return normalDistribution((A * (s - half)) / (s + half) / (2 * Math.sqrt((s * half) / (s + half))));
}

/** An excess far beyond what was expected says that something else went on: it counts as at most so many times that. */
const FAR_BEYOND = 5;
function believable(excess: number, expected: number): number {
  return excess / (1 + excess / (FAR_BEYOND * expected));
}

const ANGLES = 48;
const SQUARED_SINES = Array.from({ length: ANGLES + 1 }, (_, i) => Math.sin((i * Math.PI) / 2 / ANGLES) ** 2);
const LOG_COSINES = SQUARED_SINES.map((sine) => 0.5 * Math.log(Math.max(1 - sine, 1e-12)));

/** Simpson's rule over an eighth of a turn, from a sample on; in units of the sample's step / 3. */
function halfOfCircle(from: number, a: number, power: number): number {
  let sum = 0;
  for (let i = 0; i <= ANGLES / 2; i++) {
    const weight = i === 0 || i === ANGLES / 2 ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * Math.exp(power * LOG_COSINES[from + i]! - a * SQUARED_SINES[from + i]!);
  }
  return sum;
}

/** The step in which g lies, not cut at the ends; -1 where g is not above 0. */
function stepOf(g: number): number {
  return g > 0 ? Math.round((Math.log(g) - EXCESS_LOGS[0]!) / LOG_STEP) : -1;
}
