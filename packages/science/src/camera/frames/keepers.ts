/** How many frames to take for one that is good: independent, correlated in time, correlated by session. */
import { requireInRange, requireInteger, requireNotNegative, requirePositive } from '../../domain-error.ts';

/** Below this chance the count says nothing any more: a thousand frames and still no promise. */
export const LEAST_COUNTED_CHANCE = 0.003;

/** At least one of n independent frames: 1 - (1 - p)^n. @throws DomainError */
export function chanceOfKeeper(chance: number, frames: number): number {
  return 1 - (1 - chanceOf(chance)) ** requireInteger('frames', frames, { min: 0 });
}

/**
 * The smallest n with 1 - (1 - p)^n >= wanted.
 *
 * @param chance p of one frame, 0 to 1
 * @param wanted chance of at least one [0..1), 0.95 unless said
 * @returns n, >= 1; null when p is below 0.003
 * @throws DomainError
 */
export function framesForKeeper(chance: number, wanted = 0.95): number | null {
  return framesForCorrelatedKeeper(chance, 0, wanted);
}

/**
 * The same when frames follow one another as a two-state Markov chain: P(none) = (1 - p)(1 - p (1 - rho))^(n - 1).
 *
 * @param correlation rho of the keeper from one frame to the next, 0 to below 1
 * @throws DomainError
 */
export function framesForCorrelatedKeeper(chance: number, correlation: number, wanted = 0.95): number | null {
  const p = chanceOf(chance);
  const rho = correlationOf(correlation);
  const P = requireInRange('wanted', wanted, { min: 0, max: 1, maxExclusive: true });
  if (p < LEAST_COUNTED_CHANCE) return null;
  if (p >= P) return 1;
  const step = Math.log1p(-p * (1 - rho));
  if (!(step < 0)) return null;
  // A hair of slack, so that an n that is right to the last digit is not raised by rounding.
  return Math.max(1, Math.ceil((Math.log1p(-P) - Math.log1p(-p)) / step - 1e-9) + 1);
}

/** At least one of n frames of that chain. @throws DomainError */
export function chanceOfCorrelatedKeeper(chance: number, correlation: number, frames: number): number {
  const p = chanceOf(chance);
  const rho = correlationOf(correlation);
  const n = requireInteger('frames', frames, { min: 1 });
  return 1 - (1 - p) * (1 - p * (1 - rho)) ** (n - 1);
}

/**
 * At least one of n frames that share a session's luck: beta-binomial, P(none) = B(alpha, beta + n)/B(alpha, beta),
 * alpha = p (1/icc - 1), beta = (1 - p)(1/icc - 1).
 *
 * @param icc intra-class correlation, above 0 and below 1
 * @throws DomainError
 * @source Skellam 1948 (from memory)
 */
export function chanceOfKeeperInSession(chance: number, icc: number, frames: number): number {
  const p = chanceOf(chance);
  const i = requireInRange('icc', icc, { min: 0, max: 1, minExclusive: true, maxExclusive: true });
  const spread = 1 / i - 1;
  let none = 1;
  for (let k = 0; k < requireInteger('frames', frames, { min: 0 }); k++) {
    none *= ((1 - p) * spread + k) / (spread + k);
  }
  return 1 - none;
}

/** At least k of n independent frames. @throws DomainError */
export function chanceOfSeveralKeepers(chance: number, frames: number, wantedFrames: number): number {
  const p = chanceOf(chance);
  const n = requireInteger('frames', frames, { min: 0 });
  const wanted = requireInteger('wantedFrames', wantedFrames, { min: 0 });
  let fewer = 0;
  let binomial = 1;
  for (let k = 0; k < Math.min(wanted, n + 1); k++) {
    fewer += binomial * p ** k * (1 - p) ** (n - k);
    binomial *= (n - k) / (k + 1);
  }
  return 1 - fewer;
}

/** Correlation of an Ornstein-Uhlenbeck motion after dt: exp(-dt/tau). @throws DomainError */
export function correlationAfter(intervalS: number, correlationTimeS: number): number {
  return Math.exp(
    -requireNotNegative('intervalS', intervalS, 's') /
      requirePositive('correlationTimeS', correlationTimeS, 's'),
  );
}

function chanceOf(chance: number): number {
  return requireInRange('chance', chance, { what: 'a chance', min: 0, max: 1 });
}

function correlationOf(correlation: number): number {
  return requireInRange('correlation', correlation, { min: 0, max: 1, maxExclusive: true });
}
