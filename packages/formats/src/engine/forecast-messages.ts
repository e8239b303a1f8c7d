/** What the desk's engine and the pages say to each other about fetching forecasts. */
import type { Forecast } from '../forecast/forecast.ts';
import type { ForecastSourceName } from '../forecast/service/forecast-sources.ts';

/** The forecast of one site, as it stands after fetching. */
export interface PackedSite {
  readonly siteId: string;
  readonly siteName: string;
  /** Whether it is new, reaches past tomorrow, and is kept for reading without a network. */
  readonly ready: boolean;
  /** How old it is, or why it is not ready, in a sentence. */
  readonly saying: string;
  readonly source: string | null;
  /** ISO 8601; null where there is none, or the source does not say. */
  readonly issuedAt: string | null;
  readonly ageH: number | null;
  /** The last time that it speaks of, ISO 8601. */
  readonly untilTime: string | null;
  /** What the source leaves out, in sentences. */
  readonly missing: readonly string[];
}

export interface PackAnswer {
  readonly sites: readonly PackedSite[];
  /** What is not ready, each in a sentence; empty when all is. */
  readonly notReady: readonly string[];
}

/** Which service is asked, and what its terms want. */
export interface ForecastSettingsAnswer {
  readonly source: ForecastSourceName;
  /** Sent to the service, as its terms ask; null where none was given. */
  readonly contact: string | null;
  readonly sources: readonly {
    readonly name: ForecastSourceName;
    readonly title: string;
    readonly reach: string;
    readonly needsContact: boolean;
  }[];
  /** What leaves this computer with a request, in a sentence. */
  readonly leaves: string;
}

/** The kept forecast of one site. */
export interface SiteForecastAnswer {
  readonly siteId: string;
  readonly forecast: Forecast;
  /** What the source leaves out, in sentences. */
  readonly missing: readonly string[];
  /** Since it was issued [h]; null where the source does not say. */
  readonly ageH: number | null;
}
