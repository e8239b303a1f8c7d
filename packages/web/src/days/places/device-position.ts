/** Where this device is, as its receiver says. */
import type { ReceiverReading } from '@tepal/notebook';

export type DeviceReading =
  { readonly ok: true; readonly value: ReceiverReading } | { readonly ok: false; readonly message: string };

/** A receiver under leaves needs a while [ms]. */
const patienceMs = 20_000;

/** Asks once; the browser asks the photographer first. */
export function deviceReading(): Promise<DeviceReading> {
  if (!('geolocation' in navigator)) {
    return Promise.resolve({ ok: false, message: 'This browser gives no position; type it.' });
  }
  return new Promise((resolve) =>
    navigator.geolocation.getCurrentPosition(
      ({ coords: { latitude, longitude, altitude, accuracy } }) =>
        resolve({
          ok: true,
          value: { latitudeDeg: latitude, longitudeDeg: longitude, altitudeM: altitude, accuracyM: accuracy },
        }),
      ({ message }) =>
        resolve({ ok: false, message: `The device gave no position (${message}); type it instead.` }),
      { enableHighAccuracy: true, timeout: patienceMs },
    ),
  );
}
