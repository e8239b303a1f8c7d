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

// Wind.
export {
  blendingFactor,
  blendingHeightM,
  fao56FactorTo2m,
  logProfileFactor,
  roughnessOfVegetation,
  roughnessRaupach1994,
  vonKarman,
  type Roughness,
} from './outdoors/wind/profile.ts';
export {
  extinctionGoudriaan1977,
  topSpeedOverFriction,
  windExtinction,
  windInsideCanopyFactor,
} from './outdoors/wind/canopy.ts';
export {
  innerLayerDepthM,
  orographicLocation,
  orographyFactor,
  speedUpTaylorLee1984,
  type Rise,
  type TaylorLeeForm,
} from './outdoors/wind/landform.ts';
export {
  shelterPerera1981,
  shelterTaylorSalmon1993,
  wakeHeightPerera1981,
  type Barrier,
  type BehindBarrier,
} from './outdoors/wind/shelter.ts';
export {
  gustFactor,
  peakFactorDavenport1964,
  turbulenceIntensityAtCanopyTop,
  turbulenceIntensityOverGround,
  weibullOfMean,
  weibullOfTurbulence,
  weibullShareBelow,
  type WeibullSpeeds,
} from './outdoors/wind/gust.ts';
export {
  lullOutlastsExponential,
  lullOutlastsRayleigh,
  lullsBelow,
  standardNormalQuantile,
  type Lulls,
} from './outdoors/wind/lull.ts';
export {
  beaufortNumber,
  plantMotion,
  plantMotionBoundsMs,
  plantMotionWords,
  windOfBeaufortMs,
  type PlantMotion,
} from './outdoors/wind/beaufort.ts';

// ---- Camera ------------------------------------------------------------------------------------------------------
