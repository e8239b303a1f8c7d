/** What the photographer keeps, how devices' notebooks merge, and the one way by which a place leaves the house. */

// What is kept.
export {
  BLUR_CAUSES,
  evidenceSchema,
  readFrameEvidence,
  writeFrameEvidence,
  type Evidence,
  type FrameEvidence,
} from './kept/evidence.ts';
export { sendingSchema, type Sending } from './kept/sending.ts';
export { DELIVERY_USES, deliverySchema, type Delivery } from './kept/delivery.ts';
export { freeHoursSchema, REPEATS, type FreeHours } from './kept/free-hours.ts';
export { KEPT_KINDS, KINDS, type KeptByKind, type KeptKind } from './kept/kinds.ts';
export {
  kitSchema,
  LIGHT_MODIFIERS,
  SUPPORTS,
  type Camera,
  type KitPart,
  type Lens,
  type LightModifier,
  type Support,
} from './kept/kit.ts';
export { outingSchema, type Outing, type WeatherForecast, type WeatherFound } from './kept/outing.ts';
export { positionOfReceiver, type ReceiverReading } from './kept/phone-position.ts';
export { positionSchema, type Position } from './kept/position.ts';
export { CERTAINTIES, recordSchema, type KeptRecord } from './kept/record.ts';
export { setUpSchema, type KeptExposure, type SetUp } from './kept/set-up.ts';
export { LANDFORMS, SHELTERS, siteSchema, type Landform, type Site, type SiteBarrier } from './kept/site.ts';
export {
  OPENINGS,
  SENSITIVITIES,
  STEMS,
  subjectSchema,
  type Sensitivity,
  type Subject,
  type Sway,
} from './kept/subject.ts';
export {
  DROPS,
  INSECTS,
  LIGHTS,
  STILLNESSES,
  wantedPictureSchema,
  type WantedPicture,
} from './kept/wanted-picture.ts';

// The document.
export { startNotebooks } from './document/automerge-engine.ts';
export { change, type ChangeNote, type Pen } from './document/change.ts';
export { readKept, requireKept, type ReadKept } from './document/check-kept.ts';
export { NOTEBOOK_SCHEMA } from './document/founding.ts';
export { history, undoChange, type PastChange, type Undone } from './document/history.ts';
export { keptLists, type KeptLists } from './document/kept-lists.ts';
export {
  conflicts,
  find,
  list,
  listRemoved,
  unreadable,
  type Conflict,
  type Unreadable,
} from './document/look-up.ts';
export {
  createNotebook,
  mergeNotebooks,
  openNotebook,
  sameNotebook,
  saveNotebook,
  type Notebook,
  type NotebookAuthor,
} from './document/notebook.ts';

// Meeting by a file.
export {
  EXCHANGE_ENDING,
  notebookHeads,
  readExchange,
  takeExchange,
  writeExchange,
  type ExchangeFile,
  type NotebookHeads,
  type TakenExchange,
} from './exchange/exchange-file.ts';

// Places: sealed inside, released to go out.
export { privatePlaceOfRecord, privatePlaceOfSite, type PrivatePlace } from './place/private-place.ts';
export { forecastCellOfSite, type ForecastCellOfSite } from './place/forecast-cell.ts';
export { nearestSite, type SiteNearby } from './place/nearest-site.ts';
export { coordinateWords, foldedText, privateWords } from './place/private-words.ts';
export { NEIGHBOURS_WITHIN_M, sensitivitiesHere, type SensitivitiesHere } from './place/sensitivity-here.ts';
export {
  isReleasedPlace,
  noPlaceNoted,
  release,
  type Audience,
  type PlaceWish,
  type ReleaseAnswer,
  type ReleasedPlace,
  type ReleaseRequest,
} from './place/release.ts';

export { releasedInWords } from './place/release-words.ts';

// Names.
export { indexNames, type CheckedName, type NameIndex } from './names/check-name.ts';
export {
  matchRecords,
  nameForReader,
  speciesToAsk,
  type MatchedName,
  type MatchedRecords,
} from './names/match-records.ts';

// Windows as a calendar.
export {
  calendarOfWindows,
  type WindowsCalendar,
  type WindowsCalendarOptions,
} from './calendar/windows-calendar.ts';

// Records and Darwin Core.
export { gridReferenceOfReleased } from './place/grid-reference.ts';
export {
  exportRecords,
  releasedFor,
  releasedForPublic,
  type Exported,
  type ExportOptions,
} from './occurrence/records-out.ts';
export { importRecords, type Imported } from './occurrence/records-in.ts';
export { recordRows } from './occurrence/record-rows.ts';
export { toRecorderRow } from './occurrence/to-recorder-row.ts';
export { fromOccurrence, type ReadOccurrence } from './occurrence/from-occurrence.ts';
export { toOccurrence, type OccurrenceOptions, type OccurrenceRow } from './occurrence/to-occurrence.ts';
