/** A delivery: how large the picture is shown, from how far, and the blur that it bears. */
import { requirePositive } from '../../domain-error.ts';

/** Size and viewing distance of the delivered picture [mm]. */
export interface Delivery {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly viewingDistanceMm: number;
}

/** Sensor and frame. */
export interface SensorFrame {
  readonly sensorWidthMm: number;
  readonly sensorHeightMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** 420 x 280 mm seen from 300 mm. */
export const DEFAULT_DELIVERY: Delivery = { widthMm: 420, heightMm: 280, viewingDistanceMm: 300 };

const TAN_ONE_MINUTE = Math.tan(Math.PI / 180 / 60);

/** Sigma over disc-equivalent angle: 0.69 d tan 1' is the 0.2 mm disc at 25 cm of old, as a sigma. */
const SIGMA_PER_MINUTE = 0.69;

/**
 * How many times the frame is enlarged. Long side to long side; where the shapes differ the frame is taken to fill
 * the delivery and lose what overhangs, so the larger of the two ratios counts, the stricter of the two readings.
 *
 * @returns enlargement [1]
 * @throws DomainError
 */
export function enlargement(frame: SensorFrame, delivery: Delivery): number {
  const w = requirePositive('sensorWidthMm', frame.sensorWidthMm, 'mm');
  const h = requirePositive('sensorHeightMm', frame.sensorHeightMm, 'mm');
  const W = requirePositive('delivery.widthMm', delivery.widthMm, 'mm');
  const H = requirePositive('delivery.heightMm', delivery.heightMm, 'mm');
  return Math.max(Math.max(W, H) / Math.max(w, h), Math.min(W, H) / Math.min(w, h));
}

/** Pixel pitch from width and pixels across [µm]. @throws DomainError */
export function pixelPitchUm(frame: SensorFrame): number {
  return (
    (1000 * requirePositive('sensorWidthMm', frame.sensorWidthMm, 'mm')) /
    requirePositive('widthPx', frame.widthPx)
  );
}

/**
 * The largest sigma that counts as sharp: max(0.69 d tan 1' / enlargement, one pixel pitch).
 *
 * @returns sigma on the sensor [µm]
 * @throws DomainError
 */
export function limitUm(frame: SensorFrame, delivery: Delivery = DEFAULT_DELIVERY): number {
  const d = requirePositive('delivery.viewingDistanceMm', delivery.viewingDistanceMm, 'mm');
  const seen = (1000 * SIGMA_PER_MINUTE * d * TAN_ONE_MINUTE) / enlargement(frame, delivery);
  return Math.max(seen, pixelPitchUm(frame));
}

/** The disc that depth of field uses: 4 sigma of the limit [mm]. @throws DomainError */
export function depthDiscMm(frame: SensorFrame, delivery: Delivery = DEFAULT_DELIVERY): number {
  return (4 * limitUm(frame, delivery)) / 1000;
}
