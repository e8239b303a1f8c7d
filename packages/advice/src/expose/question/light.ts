/** How bright it is: read off a meter, taken from the sky, or from a test shot. */
import {
  DomainError,
  ev100OfSetting,
  evOfIlluminance,
  exactOfMarked,
  F_NUMBER_DIAL,
  ISO_DIAL,
  requireInRange,
  requirePositive,
  SHUTTER_DIAL,
  skyLight,
} from '@tepal/science';

/** What a camera was set to, marked values. */
interface CameraSetting {
  readonly fNumber: number;
  readonly exposureTimeS: number;
  readonly iso: number;
}

/**
 * - `ev100`, `lux`, `sky` describe the scene, so the light lost by focusing close is added
 * - `metered` and `testShot` looked through the lens at this magnification: it is in them already. `brighterByStops`:
 *   how much too bright the test shot came out; below 0 too dark
 */
export type LightReading =
  | { readonly kind: 'ev100'; readonly ev100: number }
  | { readonly kind: 'lux'; readonly illuminanceLux: number }
  | {
      readonly kind: 'sky';
      readonly sunAltitudeDeg: number;
      readonly dayOfYear: number;
      /** Share of the sky under cloud [0..1]. */
      readonly cloudCover: number;
    }
  | ({ readonly kind: 'metered' } & CameraSetting)
  | ({ readonly kind: 'testShot'; readonly brighterByStops: number } & CameraSetting);

/** Dew point of mild air; the sky's light hardly depends on it [°C]. */
const MILD_DEW_POINT_C = 10;

/** EV at ISO 100 of a reading. @throws DomainError */
export function ev100OfReading(light: LightReading): number {
  switch (light.kind) {
    case 'ev100':
      return light.ev100;
    case 'lux':
      return evOfIlluminance(requirePositive('lux', light.illuminanceLux, 'lx'));
    case 'sky': {
      const { sunAltitudeDeg, dayOfYear, cloudCover } = light;
      const sky = { sunAltitudeDeg, dayOfYear, cloud: { total: cloudCover }, dewPointC: MILD_DEW_POINT_C };
      const { illuminanceLux } = skyLight(sky);
      if (illuminanceLux > 0) return evOfIlluminance(illuminanceLux);
      throw new DomainError('outOfRange', 'a sun that gives light', 'sunAltitudeDeg', sunAltitudeDeg);
    }
    case 'metered':
      return ev100OfCamera(light);
    case 'testShot':
      return (
        ev100OfCamera(light) +
        requireInRange('brighterByStops', light.brighterByStops, { unit: 'stops', min: -10, max: 10 })
      );
  }
}

/** Whether the light lost by focusing close has still to be added. */
export function lossToAdd(light: LightReading): boolean {
  return light.kind !== 'metered' && light.kind !== 'testShot';
}

function ev100OfCamera(setting: CameraSetting): number {
  requirePositive('metered f-number', setting.fNumber);
  requirePositive('metered exposure time', setting.exposureTimeS, 's');
  requirePositive('metered ISO', setting.iso);
  return ev100OfSetting({
    fNumber: exactOfMarked(F_NUMBER_DIAL, setting.fNumber),
    exposureTimeS: exactOfMarked(SHUTTER_DIAL, setting.exposureTimeS),
    iso: exactOfMarked(ISO_DIAL, setting.iso),
  });
}
