/**
 * Normal priors met by evidence: the mode of the posterior and the curvature there (Laplace's method).
 *
 * Evidence comes in groups. A group is one of several alternatives, of which only one is true but nobody knows which
 * (a series whose magnification was not noted); its chance is the weighted sum over them. An alternative is a list of
 * independent terms; a term is a chance that hangs on a few readings, each a sum of parameters.
 */
import { choleskyOf, inverseOfCholesky, solveCholesky } from './positive-definite.ts';

/** A normal prior. */
export interface NormalPrior {
  readonly mean: number;
  /** Standard deviation, > 0. */
  readonly spread: number;
}

export interface EvidenceTerm {
  /** Each reading is the sum of the parameters at these places. */
  readonly readings: readonly (readonly number[])[];
  /** Log of the chance of what was found, smooth in the readings. */
  readonly logChance: (readings: readonly number[]) => number;
}

export interface EvidenceAlternative {
  readonly logWeight: number;
  readonly terms: readonly EvidenceTerm[];
}

export type EvidenceGroup = readonly EvidenceAlternative[];

/** A normal posterior: all parameters together. */
export interface NormalPosterior {
  readonly mode: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Log of the posterior's density itself, up to a constant. */
  readonly logDensity: (parameters: readonly number[]) => number;
}

/** Step of the differences, in the parameters' own unit: smaller than any spread that can be learned. */
const STEP = 0.06;
const MOST_STEPS = 40;
/** A step that would move no parameter by more than this share of its prior spread ends the search. */
const STILL = 0.02;
/** No step moves a parameter by more prior spreads than this. */
const FARTHEST = 1.5;

interface Curved {
  readonly value: number;
  readonly gradient: Float64Array;
  /** Of the log chance: negative where it is a summit. */
  readonly hessian: Float64Array;
}

/**
 * The posterior of parameters with independent normal priors. Without evidence it is the prior, exactly.
 *
 * @param priors one a parameter; their unit of order 1 (logs of factors)
 */
export function gaussianPosterior(
  priors: readonly NormalPrior[],
  groups: readonly EvidenceGroup[],
): NormalPosterior {
  const n = priors.length;
  const logDensity = (at: readonly number[]): number => valueAt(at, priors, groups);
  const theta = priors.map(({ mean }) => mean);
  let damping = 0;
  let here = curvedAt(theta, priors, groups);
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = damped(here, priors, damping);
    const largest = Math.max(0, ...move.map((by, i) => Math.abs(by) / priors[i]!.spread));
    if (largest < STILL && damping === 0) break;
    const scale = Math.min(1, FARTHEST / largest);
    const next = theta.map((value, i) => value + scale * move[i]!);
    const there = logDensity(next);
    if (there < here.value) {
      damping = damping === 0 ? 0.5 : damping * 4;
      if (damping > 1e6) break;
      continue;
    }
    damping = damping < 0.6 ? 0 : damping / 5;
    next.forEach((value, i) => (theta[i] = value));
    here = curvedAt(theta, priors, groups);
  }
  for (let extra = 0; ; extra = extra === 0 ? 0.01 : extra * 3) {
    const L = choleskyOf(precision(here, priors, extra));
    if (L !== null) return { mode: theta, covariance: n === 0 ? [] : inverseOfCholesky(L), logDensity };
  }
}

/** -Hessian, with so much of the prior's own precision added. */
function precision(here: Curved, priors: readonly NormalPrior[], extra: number): number[][] {
  const n = priors.length;
  return priors.map((prior, i) =>
    Array.from({ length: n }, (_, j) => {
      const own = i === j ? extra / prior.spread ** 2 : 0;
      return own - here.hessian[i * n + j]!;
    }),
  );
}

function damped(here: Curved, priors: readonly NormalPrior[], damping: number): number[] {
  for (let extra = damping; ; extra = extra === 0 ? 0.1 : extra * 3) {
    const L = choleskyOf(precision(here, priors, extra));
    if (L !== null) return solveCholesky(L, [...here.gradient]);
  }
}

function logPrior(theta: readonly number[], priors: readonly NormalPrior[]): number {
  return priors.reduce((sum, { mean, spread }, i) => sum - 0.5 * ((theta[i]! - mean) / spread) ** 2, 0);
}

function valueAt(
  theta: readonly number[],
  priors: readonly NormalPrior[],
  groups: readonly EvidenceGroup[],
): number {
  let value = logPrior(theta, priors);
  for (const group of groups) {
    value += logSumOf(
      group.map(({ logWeight, terms }) =>
        terms.reduce((sum, term) => sum + term.logChance(readingsAt(theta, term)), logWeight),
      ),
    );
  }
  return value;
}

function curvedAt(
  theta: readonly number[],
  priors: readonly NormalPrior[],
  groups: readonly EvidenceGroup[],
): Curved {
  const n = priors.length;
  const gradient = new Float64Array(n);
  const hessian = new Float64Array(n * n);
  let value = logPrior(theta, priors);
  priors.forEach(({ mean, spread }, i) => {
    gradient[i] = -(theta[i]! - mean) / spread ** 2;
    hessian[i * n + i] = -1 / spread ** 2;
  });
  for (const group of groups) {
    const [only] = group;
    if (group.length === 1 && only !== undefined) {
      value += only.logWeight;
      for (const term of only.terms) value += addTerm(theta, term, gradient, hessian, n);
      continue;
    }
    const found = group.map((alternative) => alternativeAt(theta, alternative, n));
    const all = logSumOf(found.map((one) => one.value));
    value += all;
    // Of a sum of chances: the gradient is the mean of the gradients; their scatter takes from the curvature.
    const mean = new Float64Array(n);
    for (const one of found) {
      const share = Math.exp(one.value - all);
      if (share < 1e-9) continue;
      for (let i = 0; i < n; i++) {
        mean[i]! += share * one.gradient[i]!;
        for (let j = 0; j < n; j++) {
          hessian[i * n + j]! += share * (one.hessian[i * n + j]! + one.gradient[i]! * one.gradient[j]!);
        }
      }
    }
    for (let i = 0; i < n; i++) {
      gradient[i]! += mean[i]!;
      for (let j = 0; j < n; j++) hessian[i * n + j]! -= mean[i]! * mean[j]!;
    }
  }
  return { value, gradient, hessian };
}

function alternativeAt(theta: readonly number[], alternative: EvidenceAlternative, n: number): Curved {
  const gradient = new Float64Array(n);
  const hessian = new Float64Array(n * n);
  let value = alternative.logWeight;
  for (const term of alternative.terms) value += addTerm(theta, term, gradient, hessian, n);
  return { value, gradient, hessian };
}

/** Differences over the term's readings, spread onto the parameters that they are sums of. */
function addTerm(
  theta: readonly number[],
  term: EvidenceTerm,
  gradient: Float64Array,
  hessian: Float64Array,
  n: number,
): number {
  const { readings, logChance } = term;
  const at = readingsAt(theta, term);
  const m = at.length;
  const centre = logChance(at);
  const up = new Float64Array(m);
  const down = new Float64Array(m);
  const moved = (i: number, by: number): void => void (at[i]! += by);
  for (let i = 0; i < m; i++) {
    moved(i, STEP);
    up[i] = logChance(at);
    moved(i, -2 * STEP);
    down[i] = logChance(at);
    moved(i, STEP);
  }
  for (let i = 0; i < m; i++) {
    const slope = (up[i]! - down[i]!) / (2 * STEP);
    for (const p of readings[i]!) gradient[p]! += slope;
    for (let j = 0; j <= i; j++) {
      let bend: number;
      if (i === j) bend = (up[i]! - 2 * centre + down[i]!) / STEP ** 2;
      else {
        moved(i, STEP);
        moved(j, STEP);
        const both = logChance(at);
        moved(i, -2 * STEP);
        moved(j, -2 * STEP);
        const neither = logChance(at);
        moved(i, STEP);
        moved(j, STEP);
        bend = (both - up[i]! - up[j]! + 2 * centre - down[i]! - down[j]! + neither) / (2 * STEP ** 2);
      }
      for (const p of readings[i]!) {
        for (const q of readings[j]!) {
          hessian[p * n + q]! += bend;
          if (i !== j) hessian[q * n + p]! += bend;
        }
      }
    }
  }
  return centre;
}

function readingsAt(theta: readonly number[], { readings }: EvidenceTerm): number[] {
  return readings.map((parameters) => parameters.reduce((sum, p) => sum + theta[p]!, 0));
}

function logSumOf(logs: readonly number[]): number {
  const most = Math.max(...logs);
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0));
}
