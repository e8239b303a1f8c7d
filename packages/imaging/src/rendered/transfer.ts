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

/**
 * J1 by polynomials, to 1e-7: no table has to be made before the first blur is measured.
 *
 * @source Abramowitz & Stegun 1964, 9.4.4 and 9.4.6 [from memory]; a test holds it to Bessel's integral
 */
export function besselJ1(x: number): number {
  if (x < 3) {
    const t = (x / 3) ** 2;
    return (
      x *
      (0.5 +
        t *
          (-0.56249985 +
            t * (0.21093573 + t * (-0.03954289 + t * (0.00443319 + t * (-0.00031761 + t * 0.00001109))))))
    );
  }
  const t = 3 / x;
  const size =
    0.79788456 +
    t *
      (0.00000156 +
        t * (0.01659667 + t * (0.00017105 + t * (-0.00249511 + t * (0.00113653 - t * 0.00020033)))));
  const phase =
    x -
    2.35619449 +
    t *
      (0.12499612 +
        t * (0.0000565 + t * (-0.00637879 + t * (0.00074348 + t * (0.00079824 - t * 0.00029166)))));
  return (size * Math.cos(phase)) / Math.sqrt(x);
}
