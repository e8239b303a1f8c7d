/** Decisions with their reasons: which hours, what to set, which frame. Pure. */

// ---- Frames: which frame -----------------------------------------------------------------------------------------
export {
  fileKindOf,
  picturesOf,
  type FileKind,
  type FoundPictures,
  type PictureFiles,
} from './frames/files/companions.ts';
export {
  coarsePrintInWords,
  DELIVERIES,
  deliveryInWords,
  deliveryLimitPx,
  largestDelivery,
  printOfSize,
  printResolutionPpi,
  type Delivery,
  type FrameSize,
} from './frames/delivery.ts';
export { compareFileNames } from './frames/files/file-name-order.ts';
export {
  focusMovement,
  seriesKind,
  type DetailMap,
  type FocusEnd,
  type FocusMovement,
} from './frames/series/focus-series.ts';
export { frameWords, type FrameCircumstances } from './frames/frame-words.ts';
export { lessExposureWords, type ThirdsLess } from './frames/less-exposure-words.ts';
export { sharpTiles } from './frames/sharp-tiles.ts';
export { keepOwnSeries } from './frames/series/own-series.ts';
export {
  rankSeries,
  sharpnessOf,
  type FrameToRank,
  type RankedFrame,
  type Sharpness,
} from './frames/ranking.ts';
export { rescuedBy, type Rescued, type SpoiledFrame } from './frames/outing/remedies.ts';
export {
  groupIntoSeries,
  type FrameToGroup,
  type GroupedSeries,
  type GroupingOptions,
  type Likeness,
} from './frames/series/series.ts';
export {
  brightnessSteps,
  movedFrames,
  type BrightnessStep,
  type LightMap,
} from './frames/series/completeness.ts';
export { focusSide, type FocusMap, type FocusSide } from './frames/series/focus-side.ts';
export {
  focusSeriesWords,
  repeatSeriesWords,
  type FocusSeriesBesides,
} from './frames/series/series-words.ts';
export { judgeQuestions, type FrameBeforeJudge, type JudgeQuestion } from './frames/outing/judge.ts';
export {
  shortList,
  type FrameToShortList,
  type ShortListed,
  type ShortListOptions,
} from './frames/outing/short-list.ts';
export { spoilerOf, spoilersOf, type Spoiler, type SpoilerCause } from './frames/outing/spoilers.ts';
export { outingVerdict, type FrameToJudge, type VerdictOptions } from './frames/outing/verdict.ts';

// ---- Deliver: will they accept it --------------------------------------------------------------------------------
export { deedsOfSteps, doneInWords, stackedFrom } from './deliver/deeds.ts';
export { deadlineWords, enteredBeforeWords, entryNames, type EnteredBefore } from './deliver/entry.ts';
export { deliveryName, nameByForm, type NameForm, type NameParts, type Named } from './deliver/file-name.ts';
export {
  checkFile,
  checkRules,
  type FittedDelivery,
  type PictureToCheck,
  type RuleCheck,
  type RulesAnswer,
} from './deliver/rules.ts';
export { printSize, sizeWithin, turnedFor, type PrintSize, type Sides } from './deliver/size.ts';

// ---- Expose: what to set, and how many frames --------------------------------------------------------------------
export { pocketCard, type CardRequest } from './expose/card.ts';
export { exposureAdvice } from './expose/exposure-advice.ts';
export { exposureField, type ExposureField, type FieldPoint } from './expose/field.ts';
export type { LightModifiers } from './expose/question/light-modifiers.ts';
export type { LightReading } from './expose/question/light.ts';
export {
  CAMERA_USES,
  type CameraUse,
  type ExposureRequest,
  type FixedSettings,
  type KnownFactor,
} from './expose/question/request.ts';
export { oneIn } from './expose/words/words.ts';

// ---- When: which hours -------------------------------------------------------------------------------------------
export {
  LANDFORM_KINDS,
  SHELTER_WORDS,
  USUAL_BARRIER,
  USUAL_PLANT,
  WIND_PROFILES,
  usualLandform,
  type LandformAtSite,
  type LandformKind,
  type PlantPlace,
  type ShelterWord,
  type WindProfile,
} from './when/place.ts';
export { hoursAtPlant, type HourAtPlant } from './when/hour/hours.ts';
export { lullAtPlant, type LullHere } from './when/hour/lull.ts';
export { wayDown, type SourcedFactor, type WayDown } from './when/hour/way-down.ts';
export { windAtPlant, type ForecastWind, type WindHere } from './when/hour/wind-at-plant.ts';
export { DEW_WORDS, dewWord, type DewWord } from './when/hour/drops.ts';
export { factorsOf, type JudgedFactor } from './when/window/factors.ts';
export { ANY_CLOSE_UP, type SeasonCurve, type WantedHours } from './when/window/needs.ts';
export {
  hourColumns,
  judgeHours,
  needColumns,
  roomForJudging,
  type HourColumns,
  type Judged,
  type NeedColumns,
} from './when/window/judging.ts';
export {
  HOURS_TOLD_APART_H,
  PART_WORDS,
  PARTS_OF_DAY,
  type PartOfDay,
  type PartWord,
} from './when/window/parts-of-days.ts';
export { outlookOf, type OutlookPart } from './when/window/outlook.ts';
export {
  findWindows,
  SUITABLE,
  type FoundMiss,
  type FoundWindow,
  type FoundWindows,
  type WindowRequest,
} from './when/window/windows.ts';
export { calendarEvents, type CalledPicture } from './when/calendar-events.ts';
export { freeSpans, type FreeEntry, type FreeSpan } from './when/window/free-hours.ts';
export {
  rankAcrossSites,
  type AcrossSites,
  type RankedWindow,
  type SiteWindows,
} from './when/window/across-sites.ts';
export {
  flowerHeightAt,
  plantPlaceOfSite,
  seasonOfSubject,
  sightingsOf,
  wantedHoursAt,
  type KeptForWhen,
  type SeasonMoment,
} from './when/from-notebook.ts';
export { seasonAt, type Season, type SeasonPlace, type YearShift } from './when/season.ts';
export { seenOf, type SeenOn } from './when/season-records.ts';
export {
  shiftByOrder,
  shiftByWarmth,
  surerShift,
  warmthSums,
  type DayExtremes,
  type SubjectSeen,
} from './when/season-year.ts';
export { sunSpells, type SunSpell } from './when/hour/sun-spells.ts';
export { hereNow, type HereNow } from './when/here-now.ts';
export { dropsInWords, hourInWords, lightInWords, windInWords } from './when/words.ts';
export { OPENING_HABITS, type OpeningHabit } from './when/hour/flower.ts';
export { cautionsOf, forecastAgeH } from './when/cautions.ts';
export { freeDuring, plantPlaceUnder, siteDocument, type KeptForDays } from './when/site-document.ts';
export { reportInWords } from './when/report-words.ts';
export { whenDocument, type PrintedHour, type WhenAnswer, type WhenRequest } from './when/when-document.ts';

// Choosing: what becomes of decisions.
export { ratingStep, USUAL_RATINGS, type Ratings, type RatingStep } from './choosing/ratings.ts';
export {
  IDENTIFICATION_VIEWS,
  missingViews,
  type IdentificationView,
  type NamedSeries,
} from './choosing/views.ts';

// ---- Match: which frame was taken when, and how ------------------------------------------------------------------
export {
  offsetFromPhotographedClock,
  offsetFromTrack,
  type TrackOffset,
  type TrackSearch,
} from './match/camera-clock.ts';
export { matchSetUps, type MatchedSetUp } from './match/set-ups.ts';

// ---- Learn: what the measured frames say -------------------------------------------------------------------------
export {
  nominalFrame,
  type FrameToLearn,
  type OutingToLearn,
  type SeriesToLearn,
} from './learn/frame-to-learn.ts';
export { gatherEvidence, type Gathered } from './learn/gather.ts';
export { learnDocument } from './learn/learn-document.ts';
export {
  chanceSharpAsLearned,
  learnedFloor,
  learnedForExposure,
  learnedHands,
  learnedLull,
  learnedPlacement,
  learnedPlant,
  learnedWind,
  type AboutToPhotograph,
  type FrameToCome,
  type LearnedFactor,
} from './learn/learned.ts';
export { learnFromOutings, type PosteriorOfAll } from './learn/posterior.ts';
