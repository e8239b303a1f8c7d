/** Every path of the engine, built in one place so that the desk and the pages cannot drift apart. */
import type { StoreName } from './messages.ts';

const seg = encodeURIComponent;

export const enginePaths = {
  /** GET: EngineState */
  state: () => '/api/state',
  /** GET: FolderListing; without a path, the home folder */
  folders: (path?: string) => (path === undefined ? '/api/folders' : `/api/folders?path=${seg(path)}`),
  /** POST {path}: Job, measuring that folder into the store */
  measure: (store: StoreName) => `/api/${store}/measure`,
  /** GET: Job; DELETE: cancels it */
  job: (id: string) => `/api/jobs/${seg(id)}`,
  /** GET text/event-stream of Job */
  jobEvents: (id: string) => `/api/jobs/${seg(id)}/events`,
  /** GET: FramesAnswer */
  frames: (store: StoreName) => `/api/${store}/frames`,
  /** PUT {path}: FramesAnswer of another folder that was measured before */
  folder: (store: StoreName) => `/api/${store}/folder`,
  /** GET: RatingPlan; POST {ratings?, changeOthers?}: RatingPlan, written into sidecars */
  ratings: (store: StoreName) => `/api/${store}/ratings`,
  /** POST {away}: MovedOuts; true moves the outs to the folder beside, false brings them back */
  outs: (store: StoreName) => `/api/${store}/outs`,
  /** PUT {decision}: LibraryFrame */
  decision: (store: StoreName, frameId: string) => `/api/${store}/frames/${seg(frameId)}/decision`,
  /** PUT {frameId, x, y}: Job, measuring the series again at that point of focus */
  point: (store: StoreName, seriesId: string) => `/api/${store}/series/${seg(seriesId)}/point`,
  /** PUT {name}: LibrarySeries */
  seriesName: (store: StoreName, seriesId: string) => `/api/${store}/series/${seg(seriesId)}/name`,
  /** GET image/jpeg: a crop at 100 %, centred at fractions x, y of the oriented frame, size in frame px */
  crop: (store: StoreName, frameId: string, crop: { x: number; y: number; width: number; height: number }) =>
    `/api/${store}/frames/${seg(frameId)}/crop.jpg?x=${crop.x}&y=${crop.y}&width=${crop.width}&height=${crop.height}`,
  /** GET image/jpeg: the whole frame, its long edge at most longEdgePx */
  preview: (store: StoreName, frameId: string, longEdgePx: number) =>
    `/api/${store}/frames/${seg(frameId)}/preview.jpg?longEdge=${longEdgePx}`,
  /** POST {frameIds, referenceId?, title?}: Job */
  blend: (store: StoreName) => `/api/${store}/blend`,
  /** GET: Picture[] */
  pictures: (store: StoreName) => `/api/${store}/pictures`,
  /** GET image/jpeg of a picture */
  picturePreview: (store: StoreName, pictureId: string, longEdgePx: number) =>
    `/api/${store}/pictures/${seg(pictureId)}/preview.jpg?longEdge=${longEdgePx}`,
  /** POST DeliverRequest: Job, whose `deliver` names the file */
  deliver: (store: StoreName) => `/api/${store}/deliver`,
  /** GET: the delivered file itself, as a download */
  delivered: (store: StoreName, jobId: string) => `/api/${store}/delivered/${seg(jobId)}`,
  /** GET: DaysAnswer */
  days: (store: StoreName) => `/api/${store}/days`,
  /** PUT the bytes of a forecast file for a site: DaysAnswer; GET: SiteForecastAnswer */
  forecast: (store: StoreName, siteId: string) => `/api/${store}/sites/${seg(siteId)}/forecast`,
  /** POST {siteIds?}: PackAnswer, fetching the forecasts of all sites or of those */
  forecasts: (store: StoreName) => `/api/${store}/forecasts`,
  /** GET text/calendar: the windows of all sites, as a download; times in that zone, or in UTC */
  windowsCalendar: (store: StoreName, zone?: string) =>
    `/api/${store}/windows.ics${zone === undefined ? '' : `?zone=${seg(zone)}`}`,
  /** GET: ForecastSettingsAnswer; PUT {source?, contact?}: the same */
  forecastSettings: () => '/api/forecasts/settings',
  /** GET: the notebook's bytes; POST bytes: merged, answers the merged bytes */
  notebook: (store: StoreName) => `/api/${store}/notebook`,
  /** GET: MeetingState; PUT {listening}: MeetingState */
  meeting: () => '/api/meeting',
  /** POST: MeetingCode */
  meetingCode: () => '/api/meeting/code',
  /** DELETE: MeetingState without that phone */
  metDevice: (id: string) => `/api/meeting/devices/${seg(id)}`,
  /** GET: RecordsAnswer */
  records: (store: StoreName) => `/api/${store}/records`,
  /** GET application/zip: a Darwin Core archive; refused for the invented outing */
  recordsArchive: (store: StoreName) => `/api/${store}/records/archive.zip`,
  /** POST: EvidenceGathered, from everything measured on this computer */
  evidence: () => '/api/mine/evidence',
  /** GET application/zip: everything noted and chosen, exact places included */
  backupFile: () => '/api/mine/backup.zip',
  /** POST the bytes of a backup: PutBack */
  backup: () => '/api/mine/backup',
  /** GET: LibraryChecked */
  libraryCheck: () => '/api/mine/check',
} as const;
