/** The outdoors and the camera in pure functions: numbers in, numbers out. */

// What a caller's mistake looks like.
export {
  DomainError,
  requireFinite,
  requireInRange,
  requireInteger,
  requireNotNegative,
  requireOneOf,
  requirePositive,
  requireShare,
  type DomainErrorCode,
  type Range,
} from './domain-error.ts';

// ---- Outdoors ----------------------------------------------------------------------------------------------------

export { requireCoordinates, requirePlace, type PlaceOnEarth } from './outdoors/place-on-earth.ts';

// Light.
export { horizontalFromHourAngle, sunPosition, type SunPosition } from './outdoors/light/sun.ts';
export {
  sunAltitudeBoundsDeg,
  sunCrossings,
  sunDay,
  type LocalDay,
  type SunCrossing,
  type SunCrossings,
  type SunDay,
} from './outdoors/light/sun-events.ts';
export {
  refractionBennett1982,
  refractionSaemundsson1986,
  type AirAtObserver,
} from './outdoors/light/refraction.ts';
export { airMassKasten1966, airMassKastenYoung1989 } from './outdoors/light/air-mass.ts';

// Damp.
export {
  dewPointC,
  dewPointDepressionK,
  dewPointOfVapourC,
  pressureAtAltitudeKpa,
  psychrometricConstantKpa,
  relativeHumidity,
  saturationSlopeKpa,
  saturationVapourPressureHpa,
  vapourCoefficients,
  vapourPressureFromPsychrometerKpa,
  wetBulbStull2011C,
  type VapourCoefficients,
} from './outdoors/damp/humidity.ts';

// ---- Camera ------------------------------------------------------------------------------------------------------
