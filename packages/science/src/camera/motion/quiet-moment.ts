/**
 * The quiet moment: at the end of its swing a head stands still. About a turn the path is a cos(w(t + tau)), tau from
 * the turn to the middle of the exposure; with the shares of `withinExposure` its variance within the exposure is
 *
 *   (m a)^2 [cos^2(w tau) even + sin^2(w tau) odd]
 */
import { requirePositive, requireNotNegative } from '../../domain-error.ts';
import { normalDistribution } from '../frames/normal.ts';
import { withinExposure } from './within-exposure.ts';

/**
 * Spread of a practised release about the moment meant [s]. Assumption: timing a seen motion errs by a few hundredths
 * of a second (order of magnitude, experiments on interception, from memory).
 */
export const RELEASE_SPREAD_S = 0.05;

/** A swing across the view, and the frame to be taken of it. */
export interface Swing {
  /** a [mm], > 0. */
  readonly amplitudeMm: number;
  /** F [Hz], > 0. */
  readonly frequencyHz: number;
  /** m [1], > 0. */
  readonly magnification: number;
  /** T [s], > 0. */
  readonly exposureTimeS: number;
  /** Largest sigma that motion may take [µm], > 0. */
  readonly limitUm: number;
}

/** What the end of a swing gives. */
export interface QuietMoment {
  /** For how long about each turn a frame may be released [s]; 0 when even the turn blurs too much. */
  readonly windowS: number;
  /** Chance of a frame released at any moment: the share of time within such windows [0..1]. */
  readonly shareOfTime: number;
  /** Chance of a frame released at a turn, by a hand of the given spread [0..1]. */
  readonly chanceTimed: number;
  /** The longest exposure that the turn bears, and that mid-swing bears [s]; at most half a swing each. */
  readonly longestAtTurnS: number;
  readonly longestMidSwingS: number;
  /** How much longer the first is [stops]. */
  readonly gainStops: number;
}

/**
 * The quiet moment of a swing.
 *
 * @param releaseSpreadS spread of the release about the turn [s], >= 0
 * @throws DomainError
 */
export function quietMoment(swing: Swing, releaseSpreadS = RELEASE_SPREAD_S): QuietMoment {
  const F = requirePositive('frequencyHz', swing.frequencyHz, 'Hz');
  const A = 1000 * requirePositive('magnification', swing.magnification) * amplitudeOf(swing);
  const limit2 = requirePositive('limitUm', swing.limitUm, 'µm') ** 2;
  const spread = requireNotNegative('releaseSpreadS', releaseSpreadS, 's');
  const half = 1 / (2 * F);
  const { odd, even } = withinExposure(F, requirePositive('exposureTimeS', swing.exposureTimeS, 's'));
  const windowS = windowOf(A ** 2 * odd, A ** 2 * even, limit2, F);
  const longestAtTurnS = longest((T) => A ** 2 * withinExposure(F, T).even <= limit2, half);
  const longestMid = longestMidSwingS(swing);
  return {
    windowS,
    shareOfTime: Math.min(1, windowS / half),
    chanceTimed: windowS >= half ? 1 : withinWindows(windowS, half, spread),
    longestAtTurnS,
    longestMidSwingS: longestMid,
    gainStops: Math.log2(longestAtTurnS / longestMid),
  };
}

/**
 * The longest exposure that freezes a swing wherever it is caught: mid-swing blurs by at most the limit.
 *
 * @returns [s]; at most half a swing
 * @throws DomainError
 */
export function longestMidSwingS(swing: Omit<Swing, 'exposureTimeS'>): number {
  const F = requirePositive('frequencyHz', swing.frequencyHz, 'Hz');
  const A = 1000 * requirePositive('magnification', swing.magnification) * amplitudeOf(swing);
  const limit2 = requirePositive('limitUm', swing.limitUm, 'µm') ** 2;
  return longest((T) => A ** 2 * withinExposure(F, T).odd <= limit2, 1 / (2 * F));
}

/**
 * By how much release at the turn scales the two shares of a swing's blur, against release at any moment: the odd one
 * (velocity) by 1 - e, the even one by 1 + e, e = exp(-2 (w spread)^2). The mean over a normal release error.
 *
 * @returns factors [1]
 * @throws DomainError
 */
export function timedShares(
  frequencyHz: number,
  releaseSpreadS = RELEASE_SPREAD_S,
): { readonly odd: number; readonly even: number } {
  const w = 2 * Math.PI * requireNotNegative('frequencyHz', frequencyHz, 'Hz');
  const e = Math.exp(-2 * (w * requireNotNegative('releaseSpreadS', releaseSpreadS, 's')) ** 2);
  return { odd: 1 - e, even: 1 + e };
}

/** The time about a turn within which cos^2 even + sin^2 odd stays below the limit [s]. */
function windowOf(odd: number, even: number, limit2: number, F: number): number {
  const half = 1 / (2 * F);
  if (Math.max(odd, even) <= limit2) return half;
  // Where the exposure is so long that the turn blurs more than mid-swing, there is no quiet moment at the turn.
  if (even > limit2 || odd <= even) return 0;
  return Math.asin(Math.sqrt((limit2 - even) / (odd - even))) / (Math.PI * F);
}

/** Chance that a normal error from one turn lands within the window of that turn or of any other. */
function withinWindows(windowS: number, half: number, spread: number): number {
  if (spread === 0) return windowS > 0 ? 1 : 0;
  const turns = Math.min(1000, Math.ceil((6 * spread) / half) + 1);
  let chance = 0;
  for (let k = -turns; k <= turns; k++) {
    chance +=
      normalDistribution((k * half + windowS / 2) / spread) -
      normalDistribution((k * half - windowS / 2) / spread);
  }
  return Math.min(1, chance);
}

/** The longest time up to an end that still holds, by halving. */
function longest(holds: (T: number) => boolean, end: number): number {
  if (holds(end)) return end;
  let low = 0;
  let high = end;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function amplitudeOf(swing: Pick<Swing, 'amplitudeMm'>): number {
  return requirePositive('amplitudeMm', swing.amplitudeMm, 'mm');
}
