/** A focus series: its step and how many frames it takes. */
import { requireInRange, requireInteger, requireNotNegative, requirePositive } from '../../domain-error.ts';

/** Step, and frames by the two readings of "covers the subject". */
export interface FocusSeriesPlan {
  /** (1 - overlap) T [mm]. */
  readonly stepMm: number;
  /** First and last frame focused on the ends of the subject: ceil(depth/step) + 1. */
  readonly framesEndsFocused: number;
  /** The ends lie within the depth of the first and last frame: ceil((depth - T)/step) + 1. */
  readonly framesCovering: number;
}

/**
 * Steps through a subject.
 *
 * @param subjectDepthMm [mm], >= 0
 * @param depthOfFieldMm T of one frame [mm], > 0
 * @param overlap share of T that neighbours share, 0 to below 1; 0.2 to 0.5 is common practice, no source
 * @throws DomainError
 */
export function focusSeries(
  subjectDepthMm: number,
  depthOfFieldMm: number,
  overlap: number,
): FocusSeriesPlan {
  const depth = requireNotNegative('subjectDepthMm', subjectDepthMm, 'mm');
  const T = requirePositive('depthOfFieldMm', depthOfFieldMm, 'mm');
  const share = requireInRange('overlap', overlap, { what: 'a share', min: 0, max: 1, maxExclusive: true });
  const stepMm = (1 - share) * T;
  return {
    stepMm,
    framesEndsFocused: steps(depth, stepMm) + 1,
    framesCovering: steps(Math.max(0, depth - T), stepMm) + 1,
  };
}

/** Time that a series takes [s]. @throws DomainError */
export function focusSeriesDurationS(frames: number, exposureTimeS: number, framesPerSecond: number): number {
  const n = requireInteger('frames', frames, { min: 1 });
  const t = requirePositive('exposureTimeS', exposureTimeS, 's');
  const each = Math.max(t, 1 / requirePositive('framesPerSecond', framesPerSecond, '1/s'));
  return (n - 1) * each + t;
}

/** Steps, with a hair of slack so that a depth of exactly n steps takes n. */
function steps(depth: number, step: number): number {
  return Math.ceil(depth / step - 1e-9);
}
