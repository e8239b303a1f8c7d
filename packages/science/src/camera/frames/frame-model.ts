/**
 * One frame: what its blur is made of, and the chance that it is sharp.
 *
 * Along and across the view the image is displaced by independent, nearly periodic, Gaussian motions: the head's sway
 * (horizontal), the camera's rotation and translation (both axes, evenly). Within the exposure each blurs by its odd
 * part (velocity) and its even part (turning); odd parts of several motions add as velocities do, and so do the even
 * parts, exactly for short exposures. The plane of focus is off by a normal error. The frame's variance, taken on its
 * worst axis, is thus
 *
 *   fixed + odd_h^2 + odd_v^2 + even_h^2 + even_v^2 + defocus^2
 *
 * a sum of squares of normal variables, whose distribution is known. For long exposures, in which both axes
 * blur at once, the sum of the axes stands for the worst axis and is too large by at most the lesser axis.
 */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';
import { diffractionSigmaUm, GREEN_WAVELENGTH_UM } from '../blur/diffraction.ts';
import { effectiveFNumber } from '../lens/effective-aperture.ts';
import { requireLensSetting, type LensSetting } from '../lens/setting.ts';
import { imageSpeeds, type CameraMotion } from '../motion/hands.ts';
import type { OwnMotion } from '../motion/insect.ts';
import { timedShares } from '../motion/quiet-moment.ts';
import { withinExposure } from '../motion/within-exposure.ts';
import { probabilityWithin } from './quadratic-form.ts';

/** How the subject moves. */
export type SubjectMotion =
  | { readonly kind: 'still' }
  /** Swings across the view with one amplitude and frequency, at a random phase; fore and aft it stands. */
  | { readonly kind: 'sinusoid'; readonly amplitudeMm: number; readonly frequencyHz: number }
  /** Gaussian sway: standard deviation along each horizontal axis, across the view and along it. */
  | {
      readonly kind: 'sway';
      readonly displacementMm: number;
      readonly frequencyHz: number;
      /** Variance of displacement within an exposure [mm^2] by the sway's own spectrum; else by its one frequency. */
      readonly withinMm2?: (exposureTimeS: number) => number;
    };

/** Everything that one frame's blur rests on. */
export interface FrameSetting {
  readonly lens: LensSetting;
  /** T [s], > 0. */
  readonly exposureTimeS: number;
  /** Pixel pitch [µm], > 0. */
  readonly pixelUm: number;
  /** Largest sigma that counts as sharp [µm], > 0. */
  readonly limitUm: number;
  readonly subject: SubjectMotion;
  /** An insect on it that moves; none unless said. */
  readonly own?: OwnMotion;
  readonly camera: CameraMotion;
  /** Rated stops [1], 0 to 10. */
  readonly stabilisation: number;
  /** lambda [µm]; green unless said. */
  readonly wavelengthUm?: number;
  /** The release aimed at the end of a swing with this spread [s]; at any moment unless said. See `timedShares`. */
  readonly releaseSpreadS?: number;
}

/** Variances on the sensor [µm^2]; motion and defocus as means over frames. */
export interface FrameVariances {
  readonly pixel: number;
  readonly diffraction: number;
  /** Of the plane of focus about the point of focus. */
  readonly focusPlacement: number;
  readonly subject: { readonly odd: number; readonly even: number };
  /** Of an insect's own motion, along one axis. */
  readonly own: number;
  /** Of both axes together. */
  readonly camera: { readonly odd: number; readonly even: number };
}

/** The chances of one frame. */
export interface FrameOdds {
  /** Defocus alone stays within the limit: the point lies within the depth of field. */
  readonly inFocus: number;
  /** Motion alone stays within the limit. */
  readonly still: number;
  /** All causes together stay within the limit. */
  readonly sharp: number;
}

/**
 * The variances that one frame is made of.
 *
 * @throws DomainError if a number is out of range or not finite
 */
export function frameVariances(frame: FrameSetting): FrameVariances {
  const { magnification: m } = requireLensSetting(frame.lens);
  const T = requirePositive('exposureTimeS', frame.exposureTimeS, 's');
  const pixel = requirePositive('pixelUm', frame.pixelUm, 'µm');
  const Ne = effectiveFNumber(frame.lens);
  const speeds = imageSpeeds(frame.lens, frame.camera, frame.stabilisation);
  const rotation = band(1000 * speeds.rotationMmS, frame.camera.rotationHz, T);
  const translation = band(1000 * speeds.translationMmS, frame.camera.translationHz, T);
  const own = ownMotion(frame.own);
  const foreAndAft2 =
    frame.camera.foreAndAftMm ** 2 + plantForeAndAftMm(frame.subject) ** 2 + own.foreAndAftMm ** 2;
  return {
    pixel: pixel ** 2 / 12,
    diffraction: diffractionSigmaUm(Ne, frame.wavelengthUm ?? GREEN_WAVELENGTH_UM) ** 2,
    focusPlacement: ((1000 * m ** 2) / Ne / 4) ** 2 * foreAndAft2,
    subject: released(frame, subjectVariance(frame.subject, m, T)),
    own: (1000 * m * own.speedMmS * T) ** 2 / 12,
    camera: { odd: rotation.odd + translation.odd, even: rotation.even + translation.even },
  };
}

/**
 * The chances that a frame is in focus, still, and sharp at its point of focus.
 *
 * @returns each 0 to 1; `sharp` never above the others. Smaller motions never lower them.
 * @throws DomainError if a number is out of range or not finite
 */
export function frameOdds(frame: FrameSetting): FrameOdds {
  const variances = frameVariances(frame);
  const limit = requirePositive('limitUm', frame.limitUm, 'µm') ** 2;
  const inFocus = probabilityWithin([variances.focusPlacement], limit);
  const still = withSubject(frame, variances, cameraWeights(variances), limit);
  return { inFocus, still, sharp: Math.min(sharpOf(frame, variances), inFocus, still) };
}

/**
 * The chance alone that a frame is sharp: `frameOdds(frame).sharp` to six decimals, at a third of the cost.
 *
 * @throws DomainError if a number is out of range or not finite
 */
export function chanceSharp(frame: FrameSetting): number {
  return sharpOf(frame, frameVariances(frame));
}

function sharpOf(frame: FrameSetting, v: FrameVariances): number {
  const room = requirePositive('limitUm', frame.limitUm, 'µm') ** 2 - v.pixel - v.diffraction;
  return withSubject(frame, v, [...cameraWeights(v), v.focusPlacement], room);
}

/** Horizontal and vertical, odd and even. */
function cameraWeights({ camera, own }: FrameVariances): readonly number[] {
  return [camera.odd / 2 + own, camera.odd / 2 + own, camera.even / 2, camera.even / 2];
}

/** Fore-and-aft standard deviation of the subject itself [mm]. */
export function plantForeAndAftMm(subject: SubjectMotion): number {
  return subject.kind === 'sway' ? subject.displacementMm : 0;
}

/** P(subject's squares + weighted squares <= room). The first weight shares the subject's axis and adds to it. */
function withSubject(
  frame: FrameSetting,
  v: FrameVariances,
  weights: readonly number[],
  room: number,
): number {
  if (!(room > 0)) return 0;
  const { subject } = v;
  if (frame.subject.kind !== 'sinusoid') {
    const [oddH = 0, oddV = 0, evenH = 0, ...rest] = weights;
    return probabilityWithin([oddH + subject.odd, oddV, evenH + subject.even, ...rest], room);
  }
  return withSinusoid(subject, weights, room);
}

/** Phases over the part of a quarter period that matters. */
const PHASES = 16;

/** Gauss-Legendre on 0..1, 10 points. */
const GAUSS_LEGENDRE = gaussLegendre(10);

/** Standard deviations beyond which a normal variable is not looked for. */
const FAR = 6;

/**
 * A sinusoid's blur at a random phase, with a normal variable added to it on the same axis. Where that variable is
 * small its variance is simply added; else the density of their sum is integrated over what the room leaves.
 */
function withSinusoid(
  subject: { readonly odd: number; readonly even: number },
  weights: readonly number[],
  room: number,
): number {
  // Squared offset over phase: a part that is always there, and one that swings as sin^2. The mean of the two parts
  // over phase is half of the squared amplitude. Only the swinging part can be met by another motion.
  const left = room - 2 * Math.min(subject.odd, subject.even);
  const swing = 2 * Math.abs(subject.odd - subject.even);
  if (!(left > 0)) return 0;
  const own = weights[0] ?? 0;
  const rest = weights.slice(1);
  if (own < 0.01 * left) {
    const { share, offsets } = offsetsWithin(swing, left - own);
    let sum = 0;
    for (const offset of offsets) sum += probabilityWithin(rest, left - own - offset * offset);
    return (share * sum) / PHASES;
  }
  const edge = Math.sqrt(left);
  const { share, offsets } = offsetsWithin(swing, (edge + FAR * Math.sqrt(own)) ** 2);
  const scale = (share * edge) / Math.sqrt(2 * Math.PI * own) / PHASES;
  let sum = 0;
  for (const { x, weight } of GAUSS_LEGENDRE) {
    const o = x * edge;
    let density = 0;
    for (const offset of offsets) {
      density += Math.exp(-((o - offset) ** 2) / (2 * own)) + Math.exp(-((o + offset) ** 2) / (2 * own));
    }
    sum += weight * scale * density * probabilityWithin(rest, left - o * o);
  }
  return Math.min(1, sum);
}

/** The share of phases at which swing sin^2 stays below a bound, and the offset at evenly spaced ones of them. */
function offsetsWithin(
  swing: number,
  bound: number,
): { readonly share: number; readonly offsets: readonly number[] } {
  const ratio = bound / swing;
  const widest = ratio < 1 ? Math.asin(Math.sqrt(ratio)) : Math.PI / 2;
  const step = widest / PHASES;
  return {
    share: widest / (Math.PI / 2),
    offsets: Array.from({ length: PHASES }, (_, i) => Math.sqrt(swing) * Math.sin(step * (i + 0.5))),
  };
}

/** A band of motion given by its root mean square image speed [µm/s] and frequency, within an exposure [µm^2]. */
function band(
  speedUmS: number,
  frequencyHz: number,
  T: number,
): { readonly odd: number; readonly even: number } {
  if (!(frequencyHz > 0)) return { odd: (speedUmS * T) ** 2 / 12, even: 0 };
  const variance = (speedUmS / (2 * Math.PI * frequencyHz)) ** 2;
  const { odd, even } = withinExposure(frequencyHz, T);
  return { odd: variance * odd, even: variance * even };
}

function subjectVariance(
  subject: SubjectMotion,
  m: number,
  T: number,
): { readonly odd: number; readonly even: number } {
  if (subject.kind === 'still') return { odd: 0, even: 0 };
  const F = requireInRange('frequencyHz', subject.frequencyHz, { unit: 'Hz', min: 0, max: 1000 });
  const sigmaMm =
    subject.kind === 'sinusoid'
      ? requireNotNegative('amplitudeMm', subject.amplitudeMm, 'mm') / Math.SQRT2
      : requireNotNegative('displacementMm', subject.displacementMm, 'mm');
  const { odd, even } = withinExposure(F, T);
  const within = subject.kind === 'sway' ? subject.withinMm2 : undefined;
  const share = odd + even;
  const variance =
    within === undefined || !(share > 0)
      ? (1000 * m * sigmaMm) ** 2
      : ((1000 * m) ** 2 * requireNotNegative('withinMm2', within(T), 'mm2')) / share;
  return { odd: variance * odd, even: variance * even };
}

function released(
  { subject, releaseSpreadS }: FrameSetting,
  { odd, even }: { readonly odd: number; readonly even: number },
): { readonly odd: number; readonly even: number } {
  if (releaseSpreadS === undefined || subject.kind === 'still') return { odd, even };
  const shares = timedShares(subject.frequencyHz, releaseSpreadS);
  return { odd: odd * shares.odd, even: even * shares.even };
}

function ownMotion(own: OwnMotion = { speedMmS: 0, foreAndAftMm: 0 }): OwnMotion {
  requireNotNegative('own.speedMmS', own.speedMmS, 'mm/s');
  requireNotNegative('own.foreAndAftMm', own.foreAndAftMm, 'mm');
  return own;
}

function gaussLegendre(n: number): readonly { readonly x: number; readonly weight: number }[] {
  return Array.from({ length: n }, (_, i) => {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let pass = 0; pass < 50; pass++) {
      let p0 = 1;
      let p1 = x;
      for (let k = 2; k <= n; k++) [p0, p1] = [p1, ((2 * k - 1) * x * p1 - (k - 1) * p0) / k];
      slope = (n * (x * p1 - p0)) / (x * x - 1);
      x -= p1 / slope;
    }
    return { x: (1 + x) / 2, weight: 1 / ((1 - x * x) * slope * slope) };
  });
}
