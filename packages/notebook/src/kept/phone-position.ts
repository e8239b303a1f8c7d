/** A position as a phone tells it. */
import { receiverUncertaintyM } from '@tepal/science';
import type { Position } from './position.ts';

/** What a receiver says: degrees, and its accuracy as a circle that holds the true place about half the time [m]. */
export interface ReceiverReading {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number | null;
  readonly accuracyM: number | null;
}

/**
 * The position to keep, its uncertainty at 95 %: twice the accuracy that the phone tells (FS 8.2).
 *
 * @throws DomainError where the accuracy is negative
 */
export function positionOfReceiver(reading: ReceiverReading): Position {
  const { latitudeDeg, longitudeDeg, altitudeM, accuracyM } = reading;
  const coordinateUncertaintyM =
    accuracyM === null || accuracyM === 0 ? null : receiverUncertaintyM(accuracyM);
  return { latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM };
}
