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

// Light under a sky.
export {
  clearTwilightLux,
  exposureValueOfLux,
  extraterrestrialIlluminanceLux,
  iesDaylight,
  type IesDaylight,
  type IesSky,
} from './outdoors/light/daylight.ts';
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
} from './outdoors/light/cloud.ts';
export {
  overcastLevelOverZenith,
  overcastLuminanceRatio,
  overcastUprightOverLevel,
} from './outdoors/light/overcast.ts';
export { lightOfRadiationPerez1990, type PerezLight } from './outdoors/light/luminous-efficacy.ts';
export { skyLight, type CloudCover, type SkyLight } from './outdoors/light/sky.ts';

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
} from './outdoors/damp/dew.ts';
export { leafWetnessCart2002, type LeafWetness } from './outdoors/damp/wetness.ts';
export { butterfliesOnTheWing, insectState, warmUpTime, type InsectState } from './outdoors/insects.ts';

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
} from './outdoors/place/map-grid.ts';
export {
  headingUncertaintyM,
  receiverUncertaintyM,
  squareUncertaintyM,
  stepOnGround,
  type StepOnGround,
} from './outdoors/place/coordinate-uncertainty.ts';
export {
  cellOfPlace,
  generalisingStepsDeg,
  spatialFit,
  type GeneralisingStep,
  type GridCell,
} from './outdoors/place/generalise.ts';

// ---- Camera ------------------------------------------------------------------------------------------------------

// A lens as it is set, and what it makes of a subject.
export {
  blurDiscAtInfinityMm,
  blurDiscMm,
  blurDiscNearFocusMm,
  entrancePupilToFocusMm,
} from './camera/lens/background.ts';
export {
  apertureForDepth,
  apertureForFocusTravel,
  apertureOfGreatestDepth,
  depthWithinBlurMm,
  type BestAperture,
} from './camera/lens/best-aperture.ts';
export {
  closeUpLens,
  conjugatesOfMagnification,
  conjugatesOfSubject,
  focalLengthFromDistanceMm,
  focalLengthFromTravelMm,
  magnificationOfExtension,
  subjectToSensorMm,
  type Conjugates,
} from './camera/lens/conjugates.ts';
export {
  depthOfField,
  depthOfFieldCloseUpMm,
  depthOfFocusMm,
  focusBetweenMm,
  hyperfocalMm,
  limitsAtDistance,
  type DepthOfField,
  type Extent,
} from './camera/lens/depth-of-field.ts';
export {
  effectiveFNumber,
  exposureFactor,
  focalLengthsAtLoss,
  lightLossStops,
} from './camera/lens/effective-aperture.ts';
export { requireLensSetting, type LensSetting } from './camera/lens/setting.ts';
// Light, exposure and noise.
export {
  exactOfMarked,
  F_NUMBER_DIAL,
  ISO_DIAL,
  nearestDialPosition,
  SHUTTER_DIAL,
  shutterInWords,
  type DialPosition,
} from './camera/light/dial.ts';
export {
  equivalentReflectance,
  ev100OfSetting,
  evOfIlluminance,
  evOfLuminance,
  exposureTimeS,
  illuminanceOfSetting,
  INCIDENT_METER_CONSTANT,
  isoNeeded,
  luminanceOfSetting,
  NATURAL_LIGHT,
  REFLECTED_METER_CONSTANT,
  type ExposureSetting,
  type NaturalLight,
} from './camera/light/exposure.ts';
export {
  ACCEPTABLE_SNR,
  EXCELLENT_SNR,
  exposureIndex,
  focalPlaneExposureLuxS,
  lensConstant,
  midtoneExposureLuxS,
  ORDINARY_LENS_CONSTANT,
  pixelsPerDegree,
  saturationShare,
  saturationSpeed,
  snrForDelivery,
  type FocalPlaneInput,
} from './camera/light/iso-speed.ts';
export { DAYLIGHT_PHOTONS_PER_UM2_LUX_S, photonsOnPixel, photonsPerUm2LuxS } from './camera/light/photons.ts';
export {
  dynamicRange,
  electronsAtIso,
  electronsForSnr,
  gainFromTransfer,
  QUANTISATION_VARIANCE,
  snrAtIso,
  snrOfAverage,
  snrOfElectrons,
  temporalDarkNoiseElectrons,
  type Sensor,
} from './camera/light/sensor-noise.ts';
// Blur: its causes, their budget, and the check by MTF.
export {
  blurBudget,
  combinedSigma,
  discSigma,
  streakSigma,
  type BlurBudget,
} from './camera/blur/blur-budget.ts';
export {
  DEFAULT_DELIVERY,
  depthDiscMm,
  enlargement,
  limitUm,
  pixelPitchUm,
  type Delivery,
  type SensorFrame,
} from './camera/blur/delivery.ts';
export {
  airyDiameterUm,
  diffractionCutOffPerMm,
  diffractionMtf,
  diffractionSigmaUm,
  GREEN_WAVELENGTH_UM,
  waveDepthOfLens,
  waveDepthUm,
  type WaveDepth,
} from './camera/blur/diffraction.ts';
export {
  combinedMtf,
  combinedMtf50PerMm,
  discMtf,
  gaussianMtf,
  gaussianOfMtf50Um,
  oscillationMtf,
  streakMtf,
  type BlurCauses,
} from './camera/blur/mtf.ts';
// What moves: camera, plant.
export {
  imageSpeeds,
  requireCameraMotion,
  stabilisedRotationFactor,
  SUPPORT_MOTION,
  SUPPORTS,
  type CameraMotion,
  type ImageSpeeds,
  type Support,
} from './camera/motion/hands.ts';
export {
  imageTravelPerRadianMm,
  longestTimeForBlur,
  shareOfTimeSlower,
  sinusoidSpeeds,
  stabilisationStops,
  type MotionRates,
  type SinusoidSpeeds,
} from './camera/motion/streak.ts';
export {
  dragN,
  MEADOW_TURBULENCE,
  oscillatorOfStem,
  staticBendMm,
  STEM_CLASSES,
  STEMS,
  swayInWind,
  type Oscillator,
  type Stem,
  type StemClass,
  type Sway,
  type Turbulence,
} from './camera/motion/sway.ts';
export { meanVarianceShare, withinExposure, type WithinExposure } from './camera/motion/within-exposure.ts';
// Frames: the chances of one, and how many.
export { chanceAllSlices, chanceInFocus, framesForAllSlices } from './camera/frames/focus-placement.ts';
export { focusSeries, focusSeriesDurationS, type FocusSeriesPlan } from './camera/frames/focus-series.ts';
export {
  chanceSharp,
  frameOdds,
  frameVariances,
  plantForeAndAftMm,
  type FrameOdds,
  type FrameSetting,
  type FrameVariances,
  type SubjectMotion,
} from './camera/frames/frame-model.ts';
export {
  chanceOfCorrelatedKeeper,
  chanceOfKeeper,
  chanceOfKeeperInSession,
  chanceOfSeveralKeepers,
  correlationAfter,
  framesForCorrelatedKeeper,
  framesForKeeper,
  LEAST_COUNTED_CHANCE,
} from './camera/frames/keepers.ts';
export { normalDistribution } from './camera/frames/normal.ts';
export { probabilityWithin } from './camera/frames/quadratic-form.ts';
