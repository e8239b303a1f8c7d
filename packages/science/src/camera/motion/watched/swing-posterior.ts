/** What a seen path says of the swing behind it: the best model from a start, and points of the posterior about it. */
import { normalPoints } from '../../../learning/normal-points.ts';
import { choleskyOf, inverseOfCholesky } from '../../../learning/positive-definite.ts';
import { explainPath, type SeenPath, type SwingModel } from './swing-path.ts';

/** ln f, ln zeta, ln of the errors' share. */
type Place = readonly [number, number, number];

/**
 * Before anything was seen: damping ratios of herbs and cereals about 0.1, by a factor of 2.5 either way (FS 4.1, from
 * memory there), errors a thousandth of the variance by a factor of twelve; all frequencies and sizes alike.
 */
const PRIOR = { damping: Math.log(0.1), dampingSpread: 0.9, error: Math.log(1e-3), errorSpread: 2.5 };
const MOST_DAMPING = Math.log(0.9);

/** The best model near a start. */
export interface SwingMode {
  readonly model: SwingModel;
  readonly logDensity: number;
  readonly place: Place;
}

const modelAt = ([f, zeta, error]: Place): SwingModel => ({
  frequencyHz: Math.exp(f),
  damping: Math.exp(zeta),
  errorShare: Math.exp(error),
});

function logDensityAt(path: SeenPath, at: Place): number {
  if (!(at[1] < MOST_DAMPING && at[1] > -9 && at[2] > -25 && at[2] < 5)) return -Infinity;
  const damping = (at[1] - PRIOR.damping) / PRIOR.dampingSpread;
  const error = (at[2] - PRIOR.error) / PRIOR.errorSpread;
  return explainPath(path, modelAt(at)).logLikelihood - (damping * damping + error * error) / 2;
}

/** Best model reached from a frequency, by Nelder & Mead's simplex (1965, Comput. J. 7, 308). */
export function swingMode(path: SeenPath, startHz: number): SwingMode {
  const n = path.timesS.length;
  const spanS = path.timesS[n - 1]! - path.timesS[0]!;
  const start: Place = [Math.log(startHz), PRIOR.damping, PRIOR.error];
  const steps = [Math.min(0.2, 0.25 / (startHz * spanS)), -0.7, 2];
  const worth = (place: Place) => ({ place, value: logDensityAt(path, place) });
  const corners = [start, ...steps.map((step, k) => start.map((x, i) => (i === k ? x + step : x)))].map(
    (place) => worth(place as unknown as Place),
  );
  for (let i = 0; i < 220; i++) {
    corners.sort((one, other) => other.value - one.value);
    const [best, , third, worst] = corners as [Corner, Corner, Corner, Corner];
    if (best.value - worst.value < 1e-4) break;
    const middle = [0, 1, 2].map(
      (k) => (corners[0]!.place[k]! + corners[1]!.place[k]! + third.place[k]!) / 3,
    );
    const along = (by: number) =>
      worth(middle.map((m, k) => m + by * (worst.place[k]! - m)) as unknown as Place);
    const mirrored = along(-1);
    if (mirrored.value > best.value) {
      const farther = along(-2);
      corners[3] = farther.value > mirrored.value ? farther : mirrored;
    } else if (mirrored.value > third.value) corners[3] = mirrored;
    else {
      const nearer = along(mirrored.value > worst.value ? -0.5 : 0.5);
      if (nearer.value > worst.value) corners[3] = nearer;
      else
        for (let k = 1; k < 4; k++) {
          const halved = corners[k]!.place.map((x, j) => (x + best.place[j]!) / 2) as unknown as Place;
          corners[k] = worth(halved);
        }
    }
  }
  corners.sort((one, other) => other.value - one.value);
  const { place, value } = corners[0]!;
  return { model: modelAt(place), logDensity: value, place };
}

interface Corner {
  readonly place: Place;
  readonly value: number;
}

/** One swing that may be behind the path, and how much it counts. */
export interface SwingPoint {
  readonly frequencyHz: number;
  /** Standard deviation of displacement [the path's length]. */
  readonly displacement: number;
  readonly weight: number;
}

const POINTS = 500;
/** The points are drawn so much wider than the summit's own curvature says, and weighed for it. */
const WIDENED = 1.6;

/** Points of the posterior about a mode, by importance sampling on Halton's points: the same at each call. */
export function swingPosterior(path: SeenPath, mode: SwingMode): readonly SwingPoint[] {
  const covariance = curvatureInverse(path, mode).map((row) => row.map((value) => value * WIDENED ** 2));
  const L =
    choleskyOf(covariance) ?? covariance.map((row, i) => row.map((v, j) => (i === j ? Math.sqrt(v) : 0)));
  // The fourth dimension draws the size of the swing: S over a chi-square (Wilson & Hilferty 1931).
  const identity = [0, 1, 2, 3].map((i) => [0, 1, 2, 3].map((j) => (i === j ? 1 : 0)));
  return normalPoints([0, 0, 0, 0], identity, POINTS).map((z) => {
    const at = mode.place.map((m, i) => m + L[i]!.reduce((sum, l, j) => sum + (j <= i ? l * z[j]! : 0), 0));
    const place = at as unknown as Place;
    const drawn = -(z[0]! ** 2 + z[1]! ** 2 + z[2]! ** 2) / 2;
    const logWeight = logDensityAt(path, place) - mode.logDensity - drawn;
    const weight = logWeight > -700 ? Math.exp(logWeight) : 0;
    if (weight === 0) return { frequencyHz: mode.model.frequencyHz, displacement: 0, weight };
    const { squares, freedom } = explainPath(path, modelAt(place));
    const k = 2 / (9 * freedom);
    const chiSquare = freedom * Math.max(0.01, 1 - k + z[3]! * Math.sqrt(k)) ** 3;
    return { frequencyHz: Math.exp(place[0]), displacement: Math.sqrt(squares / chiSquare), weight };
  });
}

/** Inverse of the curvature at the mode, each axis stepped to where the density has fallen to 0.6. */
function curvatureInverse(path: SeenPath, { place, logDensity }: SwingMode): number[][] {
  const moved = (steps: readonly (readonly [number, number])[]): number =>
    logDensityAt(
      path,
      place.map((x, i) => x + steps.reduce((s, [k, by]) => s + (k === i ? by : 0), 0)) as unknown as Place,
    );
  const steps = [0, 1, 2].map((k) => {
    let [low, high] = [1e-7, 3];
    for (let i = 0; i < 40; i++) {
      const by = Math.sqrt(low * high);
      const fall = logDensity - (moved([[k, by]]) + moved([[k, -by]])) / 2;
      if (fall < 0.5) low = by;
      else high = by;
    }
    return low;
  });
  const H = steps.map((a, i) =>
    steps.map((b, j) => {
      if (i === j) return (2 * logDensity - moved([[i, a]]) - moved([[i, -a]])) / (a * a);
      const both = (x: number, y: number) =>
        moved([
          [i, x],
          [j, y],
        ]);
      return (both(a, -b) + both(-a, b) - both(a, b) - both(-a, -b)) / (4 * a * b);
    }),
  );
  // Scaled by its own steps before it is turned, for they differ by orders.
  const scaled = H.map((row, i) => row.map((value, j) => value * steps[i]! * steps[j]!));
  const L = scaled.every((row) => row.every(Number.isFinite)) ? choleskyOf(scaled) : null;
  if (L === null) return steps.map((a, i) => steps.map((_, j) => (i === j ? a * a : 0)));
  return inverseOfCholesky(L).map((row, i) => row.map((value, j) => value * steps[i]! * steps[j]!));
}
