/** What one measured frame says: its blur, and what seems to have made it, as a chance under any hands, wind and plant. */
import { requireShare } from '../domain-error.ts';
import {
  blurExcess,
  chanceBlurAbove,
  chanceSingleMadeMore,
  chanceSubjectMadeMore,
  logChanceOfBlur,
  type BlurShares,
} from './blur-of-a-frame.ts';

/** The frame as it would be with everything as typical. Variances in one unit. */
export interface NominalFrame extends BlurShares {
  /** Of the placement's variance, what the subject's own sway fore and aft makes [0..1]. */
  readonly placementBySubject: number;
  /**
   * Log of the subject's variance against log of the wind, by its value at the forecast's wind, at e times more and at
   * e times less: [less, as forecast, more], relative to `subject`. Null where the subject does not hang on the wind.
   */
  readonly subjectAgainstWind: readonly [number, number, number] | null;
}

/** How a frame differs from the nominal one: natural logs of factors on standard deviations. */
export interface Departures {
  readonly floor: number;
  readonly placement: number;
  readonly camera: number;
  readonly subject: number;
  /** On the wind at the plant. */
  readonly wind: number;
}

/** What was measured of a frame. */
export interface MeasuredBlur {
  /** Natural log of sigma, in the root of the nominal frame's unit. */
  readonly logSigma: number;
  /** tau, the error of that log [1]. */
  readonly spread: number;
  /** What seems to have made most of it; null where that is not clear. */
  readonly madeBy: 'placement' | 'camera' | 'subject' | 'motion' | null;
  /** Chance that `madeBy` is right, 1/2 to 1. */
  readonly trust: number;
}

/** The shares of a frame that departs from the nominal one. */
export function departedShares(nominal: NominalFrame, by: Departures): BlurShares {
  const subject = Math.exp(2 * by.subject + logAgainstWind(nominal.subjectAgainstWind, by.wind));
  const own = nominal.placementBySubject;
  return {
    floor: nominal.floor * Math.exp(2 * by.floor),
    placement: nominal.placement * ((1 - own) * Math.exp(2 * by.placement) + own * subject),
    camera: nominal.camera * Math.exp(2 * by.camera),
    cameraEven: nominal.cameraEven,
    subject: nominal.subject * subject,
    subjectEven: nominal.subjectEven,
  };
}

/** A parabola through the three points; straight on beyond them. */
function logAgainstWind(points: NominalFrame['subjectAgainstWind'], wind: number): number {
  if (points === null) return 0;
  const [less, there, more] = points;
  const slope = (more - less) / 2;
  const bend = (more + less) / 2 - there;
  const inside = Math.min(1.5, Math.max(-1.5, wind));
  return there + slope * inside + bend * inside ** 2 + (slope + 2 * bend * inside) * (wind - inside);
}

/** An excess too small to be told from the floor, as a share of it. */
const LEAST_EXCESS = 0.05;

/**
 * Log of the chance of what was measured of a frame.
 *
 * The cause is weighed by the excess measured: the chance that this cause made more than the rest of it, blunted by
 * `trust`.
 *
 * @throws DomainError
 */
export function logChanceOfFrame(measured: MeasuredBlur, nominal: NominalFrame, by: Departures): number {
  const shares = departedShares(nominal, by);
  const excess = blurExcess(shares);
  const ofBlur = logChanceOfBlur(measured.logSigma, measured.spread, shares.floor, excess);
  const { madeBy } = measured;
  if (madeBy === null) return ofBlur;
  const trust = requireShare('trust', measured.trust);
  const x = Math.max(Math.exp(2 * measured.logSigma) - shares.floor, LEAST_EXCESS * shares.floor);
  const motion = shares.camera + shares.subject;
  const placement = chanceSingleMadeMore(x, shares.placement, motion, excess.imbalance);
  const told = (right: number): number => Math.log(trust * right + (1 - trust) * (1 - right));
  if (madeBy === 'placement') return ofBlur + told(placement);
  const moved = ofBlur + told(1 - placement);
  if (madeBy === 'motion') return moved;
  const subject = chanceSubjectMadeMore(x, shares.subject, shares.camera);
  return moved + told(madeBy === 'subject' ? subject : 1 - subject);
}

/** Chance that a frame measures blurred beyond a limit. @throws DomainError */
export function chanceMeasuredAbove(
  logLimit: number,
  spread: number,
  nominal: NominalFrame,
  by: Departures,
): number {
  const shares = departedShares(nominal, by);
  return chanceBlurAbove(logLimit, spread, shares.floor, blurExcess(shares));
}
