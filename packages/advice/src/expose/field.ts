/** The odds over the whole field of shutter and aperture, for drawing. */
import { SHUTTER_DIAL, type DialPosition } from '@tepal/science';
import { checkedRequest, type ExposureRequest } from './question/request.ts';
import { sharpAt, sceneOf } from './rule/scene.ts';
import { fNumbersOf, isoFor } from './rule/settings.ts';

/** One point of the field. */
export interface FieldPoint {
  /** Odds of a sharp frame [0..1]. */
  readonly sharp: number;
  /** ISO that the light needs there [1], exact; may lie beyond what a camera has. */
  readonly iso: number;
}

/** Rows of times, slowest first, by columns of f-numbers, widest first; marks as on the dials. */
export interface ExposureField {
  readonly fNumbers: readonly number[];
  readonly exposureTimesS: readonly number[];
  readonly rows: readonly (readonly FieldPoint[])[];
}

/**
 * Odds and ISO at every f-number of the lens and every time from `slowestS` to `fastestS`. What is fixed is ignored:
 * the field shows what fixing costs.
 *
 * @param range marked times [s]; 1/15 to 1/4000 unless said
 * @throws DomainError as `exposureAdvice` does
 */
export function exposureField(
  request: ExposureRequest,
  range: { readonly slowestS: number; readonly fastestS: number } = { slowestS: 1 / 15, fastestS: 1 / 4000 },
): ExposureField {
  const scene = sceneOf(checkedRequest({ ...request, fix: {} }));
  const fs = fNumbersOf(scene);
  const within = ({ marked }: DialPosition): boolean =>
    marked <= range.slowestS * 1.001 && marked >= range.fastestS * 0.999;
  const times = SHUTTER_DIAL.filter(within);
  return {
    fNumbers: fs.map((f) => f.marked),
    exposureTimesS: times.map((t) => t.marked),
    rows: times.map((t) =>
      fs.map((f) => ({ sharp: sharpAt(scene, f.exact, t.exact), iso: isoFor(scene, f.exact, t.exact) })),
    ),
  };
}
