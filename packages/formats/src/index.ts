/** Bytes in, values out and back; no I/O, no decisions. */

// What reading gives.
export { formatFault, refused, told, understood, type FormatFault, type Result } from './result.ts';

// The contract's documents.
export {
  blendSchema,
  copySchema,
  deliverSchema,
  cardSchema,
  EXPLAINED,
  explanationSchema,
  exposeSchema,
  finishSchema,
  type CardDocument,
  type Explained,
  type Explanation,
  type Quantity,
  learnSchema,
  measureSchema,
  readDocument,
  readDocumentOf,
  recordSchema,
  whenSchema,
  type BlendDocument,
  type BlendFrame,
  type BlendGap,
  type CopiedFile,
  type CopyDocument,
  type DeliverDocument,
  type DocumentBySchema,
  type DocumentSchema,
  type ExposeAlternative,
  type ExposeDocument,
  type ExposeSetting,
  type FailedFile,
  type FinishDocument,
  type LearnDocument,
  type LearnedParameter,
  type MeasureDocument,
  type MeasuredFrame,
  type MeasuredSeries,
  type RecordDocument,
  type RecordExport,
  type RecordImport,
  type TepalDocument,
  type WhenDocument,
  type WhenHour,
  type WhenMiss,
  type WhenWindow,
  swaySchema,
  type SwayDocument,
} from './documents/index.ts';

// Finishing and delivering: steps, what was done, rules, entries.
export { DEEDS, type Deed, type DeedKind, type DoneDocument } from './documents/finishing/done.ts';
export { type EnteredPicture, type EntryDocument } from './documents/finishing/entry.ts';
export { type FinishStepsDocument } from './documents/finishing/finish-steps.ts';
export { readDone, readEntry, readFinishSteps, readRuleSet } from './documents/finishing/read-finishing.ts';
export { type RuleSetDocument } from './documents/finishing/rule-set.ts';

// Colour profiles.
export { readIccProfile, type IccColours, type IccProfile } from './icc/read-icc.ts';
export { type IccMatrix, type IccTable } from './icc/icc-table.ts';
export { SRGB_CURVE, writeMatrixProfile } from './icc/write-icc.ts';

// Forecasts.
export {
  unknownInstant,
  type Forecast,
  type ForecastInstant,
  type ForecastQuantity,
} from './forecast/forecast.ts';
export { definitionSentences, type ForecastDefinitions } from './forecast/definitions.ts';
export { readLocationforecast } from './forecast/sources/locationforecast.ts';
export { readMetar, type AirfieldReport } from './forecast/observed/metar.ts';
export { missingFromForecast, missingSentences, type MissingFromForecast } from './forecast/missing.ts';
export { readForecast } from './forecast/read-forecast.ts';
export {
  ageInWords,
  createForecastClient,
  forecastContact,
  type FetchedForecast,
  type ForecastAnswer,
  type ForecastAsker,
  type ForecastClient,
  type ForecastClientOptions,
} from './forecast/service/forecast-client.ts';
export { FORECAST_CELL_DEG, forecastCell, type ForecastCell } from './forecast/service/forecast-cell.ts';
export {
  FORECAST_SOURCES,
  forecastSources,
  type ForecastSource,
  type ForecastSourceName,
} from './forecast/service/forecast-sources.ts';
export {
  memoryForecastCache,
  type ForecastCache,
  type KeptAnswer,
  type Pause,
} from './forecast/service/kept-answers.ts';
export { type ForecastFetch, type HowItCame, type ServiceFault } from './forecast/service/polite-get.ts';

// Times and texts.
export { formatInstant, parseInstantMs, parseWrittenTime, type WrittenTime } from './time.ts';
export { decodeText, kindOfBytes } from './text.ts';

// The desk's engine.
export { createEngineClient, type EngineClient, type EngineFetch } from './engine/engine-client.ts';
export { type EvidenceGathered, type LibraryChecked, type PutBack } from './engine/keeping-messages.ts';
export { type MeetingCode, type MeetingState, type MetDevice } from './engine/meeting-messages.ts';
export { enginePaths } from './engine/engine-paths.ts';
export { framePaths } from './engine/frame-calls.ts';
export {
  type FrameQuestions,
  type FrameSpot,
  type OutingSetUp,
  type SeriesNaming,
  type SharpTiles,
  type ShortListedFrame,
} from './engine/frame-messages.ts';
export { picturePaths } from './engine/picture-paths.ts';
export { proxyBytes, readProxy, type ProxyPicture } from './engine/proxy-bytes.ts';
export {
  type BlendState,
  type CandidatesAnswer,
  type EnteredAnswer,
  type EntryDraft,
  type KeptRules,
  type KeptSteps,
  type PictureSource,
  type PlaceChoice,
} from './engine/picture-messages.ts';
export {
  type ForecastSettingsAnswer,
  type PackAnswer,
  type PackedSite,
  type SiteForecastAnswer,
} from './engine/forecast-messages.ts';
export {
  type DaysAnswer,
  type Decision,
  type DeliverRequest,
  type EngineAnswer,
  type EngineFault,
  type EngineState,
  type FolderListing,
  type FramesAnswer,
  type Job,
  type JobKind,
  type JobState,
  type LibraryFrame,
  type LibrarySeries,
  type MovedOuts,
  type Picture,
  type RatingPlan,
  type RatingPlanRow,
  type RecordRow,
  type RecordsAnswer,
  type StoreName,
  type StoreState,
} from './engine/messages.ts';

// Photographs: what they say of themselves, and captions written.
export { describeJpeg, type JpegDescription, type JpegSegment } from './photo/jpeg.ts';
export { readPhotoMetadata, readPhotoPlace, type PhotoMetadata } from './photo/photo-metadata.ts';
export { type PhotoPlace } from './photo/exif.ts';
export { iccProfileName } from './photo/icc-profile-name.ts';
export {
  readXmp,
  removePlaceFromXmp,
  writeXmp,
  writeXmpRating,
  type XmpCaption,
  type XmpFields,
} from './photo/xmp.ts';
export { xmpPlaceNames, type XmpName } from './photo/xmp-names.ts';

// Calendars.
export { releasedText, type ReleasedText } from './calendar/released-text.ts';
export { timeZone, type TimeZone } from './calendar/time-zone.ts';
export {
  writeCalendar,
  type CalendarAlarm,
  type CalendarEvent,
  type CalendarOptions,
} from './calendar/write-calendar.ts';

// Positions.
export {
  POSITION_NOTATIONS,
  readPosition,
  type PositionNotation,
  type ReadPosition,
} from './position/read-position.ts';
export { positionsOfGpx, type MarkedPlace } from './position/positions-of-gpx.ts';

// Terrain.
export { groundAt, readTerrain, type Ground } from './terrain/read-terrain.ts';
export { terrainAround, type Terrain, type TerrainAround, type TerrainSystem } from './terrain/terrain.ts';

// Tracks and waypoints.
export { nearestByTime, readGpx, writeGpx, type GpxDocument, type GpxPoint, type GpxTrack } from './gpx.ts';

// Darwin Core.
export { readArchive, readOccurrencesCsv, type OccurrencesRead } from './darwin-core/read-archive.ts';
export { type DarwinCoreRow } from './darwin-core/archive-table.ts';
export { readChecklist, type Checklist, type ChecklistName } from './darwin-core/checklist.ts';
export {
  isoDateOf,
  RECORDER_COLUMNS,
  writeRecorderTable,
  type RecorderRow,
} from './darwin-core/recorder-columns.ts';
export { writeArchive, type DatasetDescription, type WrittenArchive } from './darwin-core/write-archive.ts';
export { darwinCoreAddress, darwinCoreTerm, darwinCoreTerms } from './darwin-core/terms.ts';

// Archives and tables.
export { readDelimited, writeCsv } from './darwin-core/delimited.ts';
export { readZip, writeZip } from './zip.ts';
