/** What the Days page and its worker say to each other. Everything is plain and can be cloned. */
import type { FoundMiss, HereNow, RankedWindow, WhenAnswer } from '@tepal/advice';
import type { ForecastCell, ForecastSourceName, PackedSite, StoreName, WhenDocument } from '@tepal/formats';
import type { KeptLists, Site } from '@tepal/notebook';

/** Which service this device asks by itself, and under which address; null for the service's own. */
export interface DeviceForecastSettings {
  readonly source: ForecastSourceName;
  readonly address: string | null;
}

/** Where a site may be asked about, or why it may not. */
export interface SiteCell {
  readonly siteId: string;
  readonly cell: ForecastCell | null;
  readonly why: string | null;
}

/** What the days are worked out from. */
export interface DaysQuestion {
  readonly store: StoreName;
  readonly lists: KeptLists;
  /** Whether an engine is asked for newer forecasts first. */
  readonly engine: boolean;
  readonly nowMs: number;
}

/** A window beside the others of all sites. */
export interface PlacedWindow extends RankedWindow {
  readonly siteName: string;
  readonly offsetMin: number;
}

export interface PlacedMiss extends FoundMiss {
  readonly siteName: string;
  readonly offsetMin: number;
}

/** One site in a few words: what its row says before it is drawn. */
export interface SiteSummary {
  readonly siteId: string;
  readonly siteName: string;
  /** Null where this device has no forecast for it. */
  readonly forecast: WhenDocument['forecast'] | null;
  /** The last time that its forecast speaks of [Unix ms]; 0 without one. */
  readonly untilMs: number;
  readonly offsetMin: number;
  readonly here: HereNow | null;
  readonly best: PlacedWindow | null;
  readonly cautions: readonly string[];
  /** Why it has no days, in a sentence; null where it has. */
  readonly fault: string | null;
}

/** When one subject is out at a place, for the band over the year. */
export interface SubjectSeason {
  readonly subjectId: string;
  readonly name: string;
  readonly siteName: string;
  /** One value for every fifth day of the year [0..1]. */
  readonly curve: readonly number[];
  /** First and last day of the year, with the day either may be off by; null where only months were typed. */
  readonly peak: { readonly day: number; readonly bandDays: number } | null;
  readonly sentences: readonly string[];
}

/** The answer across all sites. */
export interface Overview {
  readonly sites: readonly SiteSummary[];
  /** The best first, so many as a page can list. */
  readonly windows: readonly PlacedWindow[];
  readonly windowCount: number;
  /** For each wanted picture that no site suits, the nearest. */
  readonly misses: readonly PlacedMiss[];
  readonly seasons: readonly SubjectSeason[];
  readonly madeAtMs: number;
  /** Whether the engine answered. */
  readonly engineAnswered: boolean;
}

/** What is drawn of one site. */
export interface SiteDays {
  readonly siteId: string;
  readonly siteName: string;
  readonly when: WhenAnswer;
}

export interface WorkerAsks {
  overview: { readonly ask: DaysQuestion; readonly answer: Overview };
  site: { readonly ask: { readonly siteId: string }; readonly answer: SiteDays | null };
  /** Fetches with this device's own client; the engine's way is its own. */
  fetch: {
    readonly ask: {
      readonly cells: readonly SiteCell[];
      readonly settings: DeviceForecastSettings;
      readonly nowMs: number;
    };
    readonly answer: readonly PackedSite[];
  };
  /** Takes a forecast file for a site; answers why it cannot be used, or null. */
  give: {
    readonly ask: {
      readonly store: StoreName;
      readonly siteId: string;
      readonly bytes: Uint8Array;
      readonly engine: boolean;
    };
    readonly answer: string | null;
  };
  /** The days of a place that is no site, such as where one stands. */
  stand: {
    readonly ask: {
      readonly site: Site;
      readonly cell: SiteCell;
      readonly settings: DeviceForecastSettings;
      readonly nowMs: number;
    };
    readonly answer: { readonly days: SiteDays | null; readonly why: string | null };
  };
}

export type AskName = keyof WorkerAsks;

export interface Asking<K extends AskName = AskName> {
  readonly id: number;
  readonly name: K;
  readonly ask: WorkerAsks[K]['ask'];
}

export type Answering<K extends AskName = AskName> =
  | { readonly id: number; readonly ok: true; readonly answer: WorkerAsks[K]['answer'] }
  | { readonly id: number; readonly ok: false; readonly message: string };
