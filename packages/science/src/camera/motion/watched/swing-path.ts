/**
 * The path of a damped oscillator driven by noise, seen at uneven moments with errors: how likely it is, and what it was.
 *
 *   x'' + 2 zeta w x' + w^2 x = noise      state (x, v/w), of variance 1 each in the long run
 *   over a gap d: A = e^(-zeta w d) [c + zeta s, s; -s, c - zeta s],  Q = I - A A^T
 *   c = cos(w' d), s = sin(w' d) / sqrt(1 - zeta^2), w' = w sqrt(1 - zeta^2)
 *
 * A constant and a slow lean, linear in time, are taken out along with it. Kalman's filter for the likelihood (with
 * the two regressors and the size integrated over flat priors), Rauch, Tung and Striebel's smoother for the path.
 *
 * @source Jones 1981, in Applied Time Series Analysis II (continuous-time autoregression at uneven times); Rauch, Tung
 *   & Striebel 1965, AIAA J. 3, 1445; Kelly et al. 2014, Astrophys. J. 788, 33 (all from memory)
 */

/** Where along its swing it was seen. */
export interface SeenPath {
  /** Moments [s], rising. */
  readonly timesS: Float64Array;
  /** Displacement along the swing [any length]. */
  readonly along: Float64Array;
}

/** f [Hz], zeta [1] below 1, and the variance of an error over that of the swing [1]. */
export interface SwingModel {
  readonly frequencyHz: number;
  readonly damping: number;
  readonly errorShare: number;
}

/** How well a model explains a path. */
export interface Explained {
  /** Log of the marginal likelihood, up to a constant. */
  readonly logLikelihood: number;
  /** Weighted sum of squares S: the swing's variance is S over a chi-square of `freedom`. */
  readonly squares: number;
  readonly freedom: number;
}

interface Filtered extends Explained {
  /** Constant and slope that were taken out. */
  readonly lean: readonly [number, number];
}

const REGRESSORS = 2;

/** @returns how likely the path is under the model */
export function explainPath({ timesS, along }: SeenPath, model: SwingModel): Filtered {
  const n = timesS.length;
  const middle = (timesS[0]! + timesS[n - 1]!) / 2;
  // One filter for three series at once: the path, 1, and time; their gains are the same.
  const x = new Float64Array(3);
  const v = new Float64Array(3);
  const sums = new Float64Array(6);
  let [p, q, r] = [1, 0, 1];
  let logs = 0;
  const step = transition(model);
  for (let i = 0; i < n; i++) {
    if (i > 0) {
      const { a, b, c, d } = step(timesS[i]! - timesS[i - 1]!);
      for (let k = 0; k < 3; k++) {
        const was = x[k]!;
        x[k] = a * was + b * v[k]!;
        v[k] = c * was + d * v[k]!;
      }
      [p, q, r] = predicted({ a, b, c, d }, p, q, r);
    }
    const F = p + model.errorShare;
    const gain = p / F;
    const gainV = q / F;
    const seen = [along[i]!, 1, timesS[i]! - middle] as const;
    const e = seen.map((value, k) => value - x[k]!) as [number, number, number];
    for (let k = 0; k < 3; k++) {
      x[k]! += gain * e[k]!;
      v[k]! += gainV * e[k]!;
    }
    logs += Math.log(F);
    sums[0]! += (e[0] * e[0]) / F;
    sums[1]! += (e[0] * e[1]) / F;
    sums[2]! += (e[0] * e[2]) / F;
    sums[3]! += (e[1] * e[1]) / F;
    sums[4]! += (e[1] * e[2]) / F;
    sums[5]! += (e[2] * e[2]) / F;
    r -= gainV * q;
    q -= gain * q;
    p -= gain * p;
  }
  const [yy, y1, yt, one, oneT, tt] = sums as unknown as [number, number, number, number, number, number];
  const determinant = one * tt - oneT * oneT;
  const constant = (tt * y1 - oneT * yt) / determinant;
  const slope = (one * yt - oneT * y1) / determinant;
  const squares = Math.max(1e-300, yy - constant * y1 - slope * yt);
  const freedom = n - REGRESSORS;
  const logLikelihood = -0.5 * (logs + Math.log(determinant) + freedom * Math.log(squares));
  return { logLikelihood, squares, freedom, lean: [constant, slope] };
}

/** The path behind what was seen: mean squares over time, uncertainty of the path included. */
export interface SmoothedPath {
  /** [length^2]. */
  readonly meanSquare: number;
  /** [length^2/s^2]. */
  readonly meanSquareSpeed: number;
}

/** @returns what the model makes of the path, about its own mean and lean */
export function smoothPath(path: SeenPath, model: SwingModel): SmoothedPath {
  const { squares, freedom, lean } = explainPath(path, model);
  const { timesS, along } = path;
  const n = timesS.length;
  const middle = (timesS[0]! + timesS[n - 1]!) / 2;
  const step = transition(model);
  // Of each moment: mean and covariance as predicted, then as filtered.
  const before = new Float64Array(5 * n);
  const after = new Float64Array(5 * n);
  let state: State = [0, 0, 1, 0, 1];
  for (let i = 0; i < n; i++) {
    if (i > 0) {
      const move = step(timesS[i]! - timesS[i - 1]!);
      const [x, v, p, q, r] = state;
      state = [move.a * x + move.b * v, move.c * x + move.d * v, ...predicted(move, p, q, r)];
    }
    before.set(state, 5 * i);
    const [x, v, p, q, r] = state;
    const F = p + model.errorShare;
    const e = along[i]! - lean[0] - lean[1] * (timesS[i]! - middle) - x;
    state = [x + (p / F) * e, v + (q / F) * e, p - (p * p) / F, q - (p * q) / F, r - (q * q) / F];
    after.set(state, 5 * i);
  }
  const size = squares / freedom;
  const w = 2 * Math.PI * model.frequencyHz;
  // Means over time: each moment counts for half the gap on either side of it.
  const shareOf = (i: number) =>
    (timesS[Math.min(n - 1, i + 1)]! - timesS[Math.max(0, i - 1)]!) / (2 * (timesS[n - 1]! - timesS[0]!));
  let later = state;
  let [xx, vv, mean] = [0, 0, 0];
  for (let i = n - 1; i >= 0; i--) {
    if (i < n - 1) {
      const move = step(timesS[i + 1]! - timesS[i]!);
      later = smoothedBack(stateAt(after, i), stateAt(before, i + 1), later, move);
    }
    const share = shareOf(i);
    xx += share * (later[0] ** 2 + size * later[2]);
    vv += share * (later[1] ** 2 + size * later[4]);
    mean += share * later[0];
  }
  return { meanSquare: xx - mean ** 2, meanSquareSpeed: w * w * vv };
}

/** Mean of x and v/w, then their variances with the covariance between. */
type State = [number, number, number, number, number];

const stateAt = (all: Float64Array, i: number): State => Array.from(all.subarray(5 * i, 5 * i + 5)) as State;

/** One step of the smoother: G = P A^T (predicted P)^-1; m + G (later - predicted), P + G (later - predicted) G^T. */
function smoothedBack([x, v, p, q, r]: State, next: State, later: State, { a, b, c, d }: Move): State {
  const determinant = next[2] * next[4] - next[3] ** 2;
  const [i, j, k] = [next[4] / determinant, -next[3] / determinant, next[2] / determinant];
  // P A^T, then times the inverse.
  const [e, f, g, h] = [p * a + q * b, p * c + q * d, q * a + r * b, q * c + r * d];
  const [g00, g01, g10, g11] = [e * i + f * j, e * j + f * k, g * i + h * j, g * j + h * k];
  const [dx, dv] = [later[0] - next[0], later[1] - next[1]];
  const [dp, dq, dr] = [later[2] - next[2], later[3] - next[3], later[4] - next[4]];
  return [
    x + g00 * dx + g01 * dv,
    v + g10 * dx + g11 * dv,
    Math.max(0, p + g00 * g00 * dp + 2 * g00 * g01 * dq + g01 * g01 * dr),
    q + g00 * g10 * dp + (g00 * g11 + g01 * g10) * dq + g01 * g11 * dr,
    Math.max(0, r + g10 * g10 * dp + 2 * g10 * g11 * dq + g11 * g11 * dr),
  ];
}

interface Move {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

/** The movement over a gap; that of the last gap is kept, since most bursts are nearly even. */
function transition({ frequencyHz, damping }: SwingModel): (gapS: number) => Move {
  const w = 2 * Math.PI * frequencyHz;
  const root = Math.sqrt(1 - damping * damping);
  let lastGap = NaN;
  let last: Move = { a: 1, b: 0, c: 0, d: 1 };
  return (gapS) => {
    if (gapS === lastGap) return last;
    const fall = Math.exp(-damping * w * gapS);
    const c = fall * Math.cos(w * root * gapS);
    const s = (fall * Math.sin(w * root * gapS)) / root;
    lastGap = gapS;
    last = { a: c + damping * s, b: s, c: -s, d: c - damping * s };
    return last;
  };
}

/** A P A^T + I - A A^T. */
function predicted({ a, b, c, d }: Move, p: number, q: number, r: number): [number, number, number] {
  const [dp, dr] = [p - 1, r - 1];
  return [
    1 + a * a * dp + 2 * a * b * q + b * b * dr,
    a * c * dp + (a * d + b * c) * q + b * d * dr,
    1 + c * c * dp + 2 * c * d * q + d * d * dr,
  ];
}
