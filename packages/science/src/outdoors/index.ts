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

export {
  higherHorizon,
  horizonAltitudeDeg,
  horizonOfSlope,
  horizonThroughPoints,
  openSkyShare,
  sunAboveHorizonDeg,
  type HorizonPoint,
  type HorizonProfile,
} from './light/horizon.ts';

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
export { shelterInWind, speedUpInWind, windFromAlong, type BarrierAtPlant } from './wind/direction.ts';
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
  clearSkyRadiationHaurwitz1945,
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
export { grassReflectance, uprightLight, type UprightLight } from './light/upright.ts';
export { lightOfRadiationPerez1990, type PerezLight } from './light/luminous-efficacy.ts';
export {
  lightUnderHorizon,
  lowestSunForRadiationDeg,
  skyLight,
  skyLightOfRadiation,
  type CloudCover,
  type SkyLight,
} from './light/sky.ts';

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
export {
  butterfliesInNumbers,
  butterfliesOnTheWing,
  insectState,
  warmUpTime,
  type InsectState,
} from './insects.ts';
export { windChillC } from './feels-like.ts';

// Season.
export {
  angleOfDay,
  circularDays,
  daysAfter,
  daysOfCircle,
  type CircularDays,
} from './season/day-of-year.ts';
export {
  degreeDaysAverage,
  degreeDaysModifiedAverage,
  degreeDaysSingleSine,
  type DayWarmth,
} from './season/degree-days.ts';
export { kappaOfSpread, seasonDensity } from './season/season-density.ts';
export { seasonEnd, type SeasonEnd } from './season/season-ends.ts';
export {
  hopkinsRates,
  hopkinsShiftDays,
  placeShiftDays,
  vitasseDaysPerMetre,
  warmthShiftDays,
  type PlaceShift,
} from './season/season-shift.ts';
export { openingByNeighbour, type DatedOpening, type OpeningPair } from './season/opening-order.ts';

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
  degreesOfMgrs,
  degreesOfNationalGridReference,
  degreesOfUtm,
  nationalGridOfReference,
  type ReadSquare,
} from './place/grid-to-degrees.ts';
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

// Terrain.
export {
  heightAtNode,
  heightBetween,
  requireElevationGrid,
  type ElevationGrid,
  type GridPlace,
} from './terrain/elevation-grid.ts';
export {
  incidenceCosine,
  slopeHorn1981,
  slopeOfTerrain,
  type HeightWindow,
  type Slope,
} from './terrain/slope.ts';
export {
  curvatureDropM,
  horizonAlongDeg,
  horizonOfTerrain,
  shelterOfTerrain,
  shelterWinstral2002Deg,
  sightLine,
  type SightPoint,
} from './terrain/sight-line.ts';
export { openSkyShareOfSlope } from './terrain/open-sky.ts';
export { topographicPositionM } from './terrain/relief.ts';
export { squareOfGridReference, type GridSquare } from './place/grid-reference.ts';
