/** Transfer functions of the blurs that truth is rendered with. */

/** The blurs of one frame; those left out are none. Independent: their transfer functions multiply. */
export interface RenderedBlur {
  /** Gaussian, standard deviation per axis [px]. */
  readonly gaussianSigmaPx?: number;
  /** Uniform disc of defocus [px]; sigma D / 4. */
  readonly discDiameterPx?: number;
  /** Uniform streak; direction from the x axis, counter-clockwise as seen [°]; sigma L / sqrt 12 along it. */
  readonly streak?: { readonly lengthPx: number; readonly directionDeg: number };
}

/**
 * The transfer function of a blur at a spatial frequency.
 *
 * @param u, v cycles per px along x and y (y down)
 * @returns real, since every blur here is symmetric [-0.22..1]
 * @source OI 4.4 (streak, Gaussian) and 4.5 (disc)
 */
export function transferOf(blur: RenderedBlur, u: number, v: number): number {
  let transfer = 1;
  const { gaussianSigmaPx: sigma = 0, discDiameterPx: diameter = 0, streak } = blur;
  if (sigma > 0) transfer *= Math.exp(-2 * Math.PI ** 2 * sigma ** 2 * (u * u + v * v));
  if (diameter > 0) {
    const x = Math.PI * diameter * Math.hypot(u, v);
    transfer *= x < 1e-6 ? 1 : (2 * besselJ1(x)) / x;
  }
  if (streak !== undefined && streak.lengthPx > 0) {
    const angle = (streak.directionDeg * Math.PI) / 180;
    const x = Math.PI * streak.lengthPx * (u * Math.cos(angle) - v * Math.sin(angle));
    transfer *= Math.abs(x) < 1e-6 ? 1 : Math.sin(x) / x;
  }
  return transfer;
}

/**
 * The largest standard deviation of a blur over all axes.
 *
 * @returns sigma [px]
 */
export function worstSigmaPx(blur: RenderedBlur): number {
  const { gaussianSigmaPx: sigma = 0, discDiameterPx: diameter = 0, streak } = blur;
  return Math.sqrt(sigma ** 2 + diameter ** 2 / 16 + (streak?.lengthPx ?? 0) ** 2 / 12);
}

const STEP = 1 / 64;
const MOST = 200;

/** J1 from a table at every 1/64, read linearly: error below 2e-5. */
function besselJ1(x: number): number {
  const at = Math.min(x, MOST - 1) / STEP;
  const i = Math.floor(at);
  return table[i]! + (at - i) * (table[i + 1]! - table[i]!);
}

/** By its integral; the trapezoid rule is exact to rounding while the order of its alias stays above the argument. */
const table = Float64Array.from({ length: MOST / STEP + 1 }, (_, i) => {
  const x = i * STEP;
  const n = Math.ceil(2 * x) + 40;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const t = (2 * Math.PI * k) / n;
    sum += Math.cos(t - x * Math.sin(t));
  }
  return sum / n;
});
