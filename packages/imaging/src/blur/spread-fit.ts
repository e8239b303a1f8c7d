/** The spread of a point, direction by direction, fitted to the logarithm of a transfer function. */
import { solveSymmetric } from '../register/solve.ts';

/** One sample of a transfer function's logarithm: mean u², u v, v² [cycles²/px²], ln H, and its weight. */
export interface LogTransfer {
  readonly uu: number;
  readonly uv: number;
  readonly vv: number;
  readonly logTransfer: number;
  readonly weight: number;
}

/**
 * Variances of a spread in image coordinates [px²] (x right, y down), with standard errors of the worst and the least
 * axis, and the shape that fitted: 0 for a Gaussian, 0.18 for a disc or a streak.
 */
export interface Spread {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly shape: number;
  readonly logGain: number;
  readonly errorOfVariance: number;
}

/** A disc's log transfer is -(u + u²/6 + ...), a streak's -(u + u²/5 + ...), with u = 2 pi² sigma² f². */
const SHAPES = [0, 0.18] as const;

/**
 * Fits ln H = logGain - u - shape u², u = 2 pi² (xx fx² + 2 xy fx fy + yy fy²), by weighted least squares.
 *
 * @param samples at least 8
 * @returns the spread of the shape that leaves least, or null where the samples do not determine it
 * @source OI 4.4, 4.5 (transfer functions; the series of their logarithms is closed form)
 */
export function fitSpread(
  samples: readonly LogTransfer[],
  shapes: readonly number[] = SHAPES,
): Spread | null {
  if (samples.length < 8) return null;
  let best: { spread: Spread; left: number } | null = null;
  for (const shape of shapes) {
    const found = fitShape(samples, shape);
    if (found !== null && (best === null || found.left < best.left)) best = found;
  }
  return best?.spread ?? null;
}

function fitShape(samples: readonly LogTransfer[], shape: number): { spread: Spread; left: number } | null {
  let [g, xx, xy, yy] = [0, 0, 0, 0];
  const k = 2 * Math.PI ** 2;
  let normal = new Float64Array(16);
  let left = 0;
  let weights = 0;
  for (let step = 0; step < 8; step++) {
    normal = new Float64Array(16);
    const right = new Float64Array(4);
    left = 0;
    weights = 0;
    for (const s of samples) {
      const u = k * (xx * s.uu + 2 * xy * s.uv + yy * s.vv);
      const residual = s.logTransfer - (g - u - shape * u * Math.max(0, u));
      const du = -(1 + 2 * shape * Math.max(0, u)) * k;
      const j = [1, du * s.uu, du * 2 * s.uv, du * s.vv];
      // Robust: one disturbed sector must not turn the ellipse.
      const weight = s.weight / (1 + (residual / 0.25) ** 2);
      left += weight * residual * residual;
      weights += weight;
      for (let row = 0; row < 4; row++) {
        right[row]! += weight * j[row]! * residual;
        for (let column = 0; column <= row; column++)
          normal[row * 4 + column]! += weight * j[row]! * j[column]!;
      }
    }
    const delta = solveSymmetric(normal, right, 4);
    if (delta === null) return null;
    g += delta[0]!;
    xx += delta[1]!;
    xy += delta[2]!;
    yy += delta[3]!;
  }
  const perSample = left / weights;
  // The error of the mean variance: residual scatter against the curvature that the samples hold.
  const probe = solveSymmetric(normal, Float64Array.of(0, 0.5, 0, 0.5), 4);
  const errorOfVariance =
    probe === null
      ? Infinity
      : Math.sqrt(
          Math.max(0, (perSample * weights * (0.5 * probe[1]! + 0.5 * probe[3]!)) / samples.length) * 2,
        );
  return { spread: { xx, xy, yy, shape, logGain: g, errorOfVariance }, left: perSample };
}

/**
 * Largest and smallest variance of a spread, and the direction of the largest.
 *
 * @returns variances [px²], never below 0; direction from the x axis, counter-clockwise as seen [0..180)
 */
export function axesOf(spread: { readonly xx: number; readonly xy: number; readonly yy: number }): {
  readonly worst: number;
  readonly least: number;
  readonly directionDeg: number;
} {
  const mean = (spread.xx + spread.yy) / 2;
  const half = Math.hypot((spread.xx - spread.yy) / 2, spread.xy);
  // y points down, so a positive covariance leans clockwise.
  const direction = (-0.5 * Math.atan2(2 * spread.xy, spread.xx - spread.yy) * 180) / Math.PI;
  return {
    worst: Math.max(0, mean + half),
    least: Math.max(0, mean - half),
    directionDeg: ((direction % 180) + 180) % 180,
  };
}
