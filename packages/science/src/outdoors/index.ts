/** The outdoors: light, wind, damp, insects, places on maps. */

export { requireCoordinates, requirePlace, type PlaceOnEarth } from './place-on-earth.ts';

// Light.
export { horizontalFromHourAngle, sunPosition, type SunPosition } from './light/sun.ts';
export {
  sunAltitudeBoundsDeg,
  sunCrossings,
  sunDay,
  type LocalDay,
  type SunCrossing,
  type SunCrossings,
  type SunDay,
} from './light/sun-events.ts';
export { refractionBennett1982, refractionSaemundsson1986, type AirAtObserver } from './light/refraction.ts';
export { airMassKasten1966, airMassKastenYoung1989 } from './light/air-mass.ts';

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
} from './damp/humidity.ts';

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
} from './wind/profile.ts';
export {
  extinctionGoudriaan1977,
  topSpeedOverFriction,
  windExtinction,
  windInsideCanopyFactor,
} from './wind/canopy.ts';
export {
  innerLayerDepthM,
  orographicLocation,
  orographyFactor,
  speedUpTaylorLee1984,
  type Rise,
  type TaylorLeeForm,
} from './wind/landform.ts';
export {
  shelterPerera1981,
  shelterTaylorSalmon1993,
  wakeHeightPerera1981,
  type Barrier,
  type BehindBarrier,
} from './wind/shelter.ts';
export {
  gustFactor,
  peakFactorDavenport1964,
  turbulenceIntensityAtCanopyTop,
  turbulenceIntensityOverGround,
  weibullOfMean,
  weibullOfTurbulence,
  weibullShareBelow,
  type WeibullSpeeds,
} from './wind/gust.ts';
export {
  lullOutlastsExponential,
  lullOutlastsRayleigh,
  lullsBelow,
  standardNormalQuantile,
  type Lulls,
} from './wind/lull.ts';
export {
  beaufortNumber,
  plantMotion,
  plantMotionBoundsMs,
  plantMotionWords,
  windOfBeaufortMs,
  type PlantMotion,
} from './wind/beaufort.ts';

// Light under a sky.
export {
  clearTwilightLux,
  exposureValueOfLux,
  extraterrestrialIlluminanceLux,
  iesDaylight,
  type IesDaylight,
  type IesSky,
} from './light/daylight.ts';
export {
  clearSkyRadiationKastenCzeplak1980,
  cloudTransmissionKastenCzeplak1980,
  cloudTransmissionOfLayers,
  coverOfTransmission,
  diffuseShareErbs1982,
  diffuseShareKastenCzeplak1980,
  layerTransmissionShapiro1982,
  type CloudLayer,
  type LayeredCover,
} from './light/cloud.ts';
export {
  overcastLevelOverZenith,
  overcastLuminanceRatio,
  overcastUprightOverLevel,
} from './light/overcast.ts';
export { lightOfRadiationPerez1990, type PerezLight } from './light/luminous-efficacy.ts';
export { skyLight, type CloudCover, type SkyLight } from './light/sky.ts';

// Dew, wet leaves, insects.
export {
  clearNetLongwaveWm2,
  clearSkyEmissivityBrutsaert1975,
  dewOnsetHumidity,
  dryingTime,
  dryLeafDifferenceK,
  equilibriumDewWm2,
  evaporationWm2,
  waterRateMmH,
  type WetSurface,
} from './damp/dew.ts';
export { leafWetnessCart2002, type LeafWetness } from './damp/wetness.ts';
export { butterfliesOnTheWing, insectState, warmUpTime, type InsectState } from './insects.ts';

// Places on maps.
export {
  airyDegreesOfNationalGrid,
  degreesOfNationalGrid,
  equalAreaEuropeOfDegrees,
  geohashOfDegrees,
  mgrsOfDegrees,
  nationalGridOfAiryDegrees,
  nationalGridOfDegrees,
  nationalGridReference,
  nationalGridUncertaintyM,
  utmOfDegrees,
  utmZone,
  type Degrees,
  type GridPoint,
  type OnGrid,
} from './place/map-grid.ts';
export {
  headingUncertaintyM,
  receiverUncertaintyM,
  squareUncertaintyM,
  stepOnGround,
  type StepOnGround,
} from './place/coordinate-uncertainty.ts';
export {
  cellOfPlace,
  generalisingStepsDeg,
  spatialFit,
  type GeneralisingStep,
  type GridCell,
} from './place/generalise.ts';
