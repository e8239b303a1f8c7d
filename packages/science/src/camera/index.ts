/** The camera: lens, light on the sensor, blur, motion, and the chances of a frame. */

// A lens as it is set, and what it makes of a subject.
export {
  blurDiscAtInfinityMm,
  blurDiscMm,
  blurDiscNearFocusMm,
  entrancePupilToFocusMm,
} from './lens/background.ts';
export {
  apertureForDepth,
  apertureForFocusTravel,
  apertureOfGreatestDepth,
  depthWithinBlurMm,
  type BestAperture,
} from './lens/best-aperture.ts';
export {
  closeUpLens,
  conjugatesOfMagnification,
  conjugatesOfSubject,
  focalLengthFromDistanceMm,
  focalLengthFromTravelMm,
  magnificationOfExtension,
  subjectToSensorMm,
  type Conjugates,
} from './lens/conjugates.ts';
export {
  depthOfField,
  depthOfFieldCloseUpMm,
  depthOfFocusMm,
  focusBetweenMm,
  hyperfocalMm,
  limitsAtDistance,
  type DepthOfField,
  type Extent,
} from './lens/depth-of-field.ts';
export {
  effectiveFNumber,
  exposureFactor,
  focalLengthsAtLoss,
  lightLossStops,
} from './lens/effective-aperture.ts';
export {
  magnificationAt,
  magnificationLine,
  magnificationOfLength,
  type MagnificationLine,
  type RulerFrame,
} from './lens/magnification-found.ts';
export { requireLensSetting, type LensSetting } from './lens/setting.ts';
// Light, exposure and noise.
export {
  exactOfMarked,
  F_NUMBER_DIAL,
  ISO_DIAL,
  nearestDialPosition,
  SHUTTER_DIAL,
  shutterInWords,
  type DialPosition,
} from './light/dial.ts';
export { configurationFactor, discCorners, type Vector } from './light/configuration-factor.ts';
export {
  diffuserEffect,
  GRASS_REFLECTANCE,
  REFLECTOR_SURFACES,
  reflectorFill,
  type Diffuser,
  type DiffuserResult,
  type FillResult,
  type OpenSky,
  type Reflector,
  type ReflectorSurface,
} from './light/fill.ts';
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
} from './light/exposure.ts';
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
} from './light/iso-speed.ts';
export { DAYLIGHT_PHOTONS_PER_UM2_LUX_S, photonsOnPixel, photonsPerUm2LuxS } from './light/photons.ts';
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
} from './light/sensor-noise.ts';
// Blur: its causes, their budget, and the check by MTF.
export { blurBudget, combinedSigma, discSigma, streakSigma, type BlurBudget } from './blur/blur-budget.ts';
export {
  DEFAULT_DELIVERY,
  depthDiscMm,
  enlargement,
  limitUm,
  pixelPitchUm,
  type Delivery,
  type SensorFrame,
} from './blur/delivery.ts';
export {
  airyDiameterUm,
  diffractionCutOffPerMm,
  diffractionMtf,
  diffractionSigmaUm,
  GREEN_WAVELENGTH_UM,
  waveDepthOfLens,
  waveDepthUm,
  type WaveDepth,
} from './blur/diffraction.ts';
export {
  combinedMtf,
  combinedMtf50PerMm,
  discMtf,
  gaussianMtf,
  gaussianOfMtf50Um,
  oscillationMtf,
  streakMtf,
  type BlurCauses,
} from './blur/mtf.ts';
// What moves: camera, plant, insect.
export {
  INSECT_CLASSES,
  INSECT_MOTION,
  type InsectClass,
  type InsectMotion,
  type OwnMotion,
} from './motion/insect.ts';
export {
  quietMoment,
  RELEASE_SPREAD_S,
  timedShares,
  type QuietMoment,
  type Swing,
} from './motion/quiet-moment.ts';
export { freezingTimeS, swayByEye, type SwayByEye, type WatchedSway } from './motion/sway-by-eye.ts';
export {
  FASTEST_SWAY_HZ,
  swayOfDisplacements,
  type Displacements,
  type ObservedSway,
  type SwayProcess,
  type SwingDirection,
  type WatchedPath,
  type WithInterval,
} from './motion/watched/sway-of-displacements.ts';
export {
  imageSpeeds,
  requireCameraMotion,
  stabilisedRotationFactor,
  SUPPORT_MOTION,
  SUPPORTS,
  type CameraMotion,
  type ImageSpeeds,
  type Support,
} from './motion/hands.ts';
export {
  imageTravelPerRadianMm,
  longestTimeForBlur,
  shareOfTimeSlower,
  sinusoidSpeeds,
  stabilisationStops,
  type MotionRates,
  type SinusoidSpeeds,
} from './motion/streak.ts';
export {
  dragN,
  oscillatorOfStem,
  staticBendMm,
  STEM_CLASSES,
  STEMS,
  type Oscillator,
  type Stem,
  type StemClass,
} from './motion/stem.ts';
export {
  MEADOW_TURBULENCE,
  swayCorrelation,
  swayInWind,
  swayOfSpectrum,
  swaySpectrum,
  swayVarianceWithin,
  type Sway,
  type SwaySpectrum,
  type Turbulence,
} from './motion/sway.ts';
export { meanVarianceShare, withinExposure, type WithinExposure } from './motion/within-exposure.ts';
// Frames: the chances of one, and how many.
export { chanceAllSlices, chanceInFocus, framesForAllSlices } from './frames/focus-placement.ts';
export { focusSeries, focusSeriesDurationS, type FocusSeriesPlan } from './frames/focus-series.ts';
export {
  chanceSharp,
  frameOdds,
  frameVariances,
  plantForeAndAftMm,
  type FrameOdds,
  type FrameSetting,
  type FrameVariances,
  type SubjectMotion,
} from './frames/frame-model.ts';
export {
  chanceOfCorrelatedKeeper,
  chanceOfKeeper,
  chanceOfKeeperInSession,
  chanceOfSeveralKeepers,
  correlationAfter,
  framesForCorrelatedKeeper,
  framesForKeeper,
  LEAST_COUNTED_CHANCE,
} from './frames/keepers.ts';
export { normalDistribution } from './frames/normal.ts';
export { probabilityWithin } from './frames/quadratic-form.ts';
