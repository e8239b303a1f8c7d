/** How deep the sharp zone is: one model with the pupils, exact for any magnification. */
import { DomainError, requirePositive } from '../../domain-error.ts';
import { effectiveFNumber } from './effective-aperture.ts';
import { requireLensSetting, type LensSetting } from './setting.ts';

/** A length, or the honest word that it has no end. */
export type Extent = { readonly kind: 'finite'; readonly mm: number } | { readonly kind: 'infinite' };

/** Sharp zone about the plane of focus, in the subject's space. */
export interface DepthOfField {
  /** Towards the camera [mm]. */
  readonly nearMm: number;
  /** Away from the camera. */
  readonly far: Extent;
  readonly total: Extent;
}

/**
 * Depth of field about the plane of focus.
 *
 *   near = N c (1 + m/P) / [m^2 (1 + N c/(f m))]
 *   far  = N c (1 + m/P) / [m^2 (1 - N c/(f m))]      infinite when m <= N c / f
 *
 * Geometry alone, uniform discs; paraxial. Close up it is split almost evenly and does not depend on f.
 *
 * @param discMm c, the largest blur disc that still passes [mm on the sensor], > 0
 * @throws DomainError
 * @source van Walree, Derivation of the DOF equations; confirmed there by ray tracing (OI O-22, O-23)
 */
export function depthOfField(lens: LensSetting, discMm: number): DepthOfField {
  const { focalLengthMm: f, fNumber: N, magnification: m } = requireLensSetting(lens);
  const c = requirePositive('discMm', discMm, 'mm');
  const even = (effectiveFNumber(lens) * c) / m ** 2;
  const q = (N * c) / (f * m);
  const nearMm = even / (1 + q);
  if (!(q < 1)) return { nearMm, far: { kind: 'infinite' }, total: { kind: 'infinite' } };
  const farMm = even / (1 - q);
  return { nearMm, far: { kind: 'finite', mm: farMm }, total: { kind: 'finite', mm: nearMm + farMm } };
}

/**
 * Depth of field close up, T = 2 Ne c / m^2; 6 % low at m = 0.02 (OI O-21), so use `depthOfField` below m = 0.05.
 *
 * @returns total depth [mm]
 * @throws DomainError
 */
export function depthOfFieldCloseUpMm(lens: LensSetting, discMm: number): number {
  requireLensSetting(lens);
  return (2 * effectiveFNumber(lens) * requirePositive('discMm', discMm, 'mm')) / lens.magnification ** 2;
}

/**
 * Hyperfocal distance H = f^2/(N c) + f, from the front principal plane.
 *
 * @returns H [mm]; many tables drop the "+ f"
 * @throws DomainError
 * @source NAVEDTRA 14209, Photography (Basic), US Navy 1993, ch. 1
 */
export function hyperfocalMm(focalLengthMm: number, fNumber: number, discMm: number): number {
  const f = requirePositive('focalLengthMm', focalLengthMm, 'mm');
  const N = requirePositive('fNumber', fNumber);
  return f ** 2 / (N * requirePositive('discMm', discMm, 'mm')) + f;
}

/**
 * Limits of sharpness about a distance much longer than f: H s/(H + s) and H s/(H - s).
 *
 * @returns near [same unit as given], far: infinite from H on
 * @throws DomainError
 * @source NAVEDTRA 14209
 */
export function limitsAtDistance(
  hyperfocalDistanceMm: number,
  distanceMm: number,
): { readonly nearMm: number; readonly far: Extent } {
  const H = requirePositive('hyperfocalDistanceMm', hyperfocalDistanceMm, 'mm');
  const s = requirePositive('distanceMm', distanceMm, 'mm');
  const far: Extent = s < H ? { kind: 'finite', mm: (H * s) / (H - s) } : { kind: 'infinite' };
  return { nearMm: (H * s) / (H + s), far };
}

/** Where to focus so that both limits are equally sharp, far from close-up: 2 d D/(d + D). @throws DomainError */
export function focusBetweenMm(nearMm: number, farMm: number): number {
  const d = requirePositive('nearMm', nearMm, 'mm');
  const D = requirePositive('farMm', farMm, 'mm');
  if (D >= d) return (2 * d * D) / (d + D);
  throw new DomainError('wrongOrder', `a distance in mm of at least ${d}`, 'farMm', D);
}

/** Depth of focus at the sensor, total: 2 Ne c [mm]. @throws DomainError */
export function depthOfFocusMm(effectiveFNumberValue: number, discMm: number): number {
  return (
    2 *
    requirePositive('effectiveFNumberValue', effectiveFNumberValue) *
    requirePositive('discMm', discMm, 'mm')
  );
}
