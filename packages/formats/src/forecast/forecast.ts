/**
 * A forecast as the rest of the house knows it, whatever its source: SI units and °C, shares 0 to 1, totals with an
 * explicit interval, and the source's own definitions beside the numbers.
 */
import type { FormatFault } from '../result.ts';

/** One instant of a forecast. What the source did not give is null; nothing is filled in. */
export interface ForecastInstant {
  /** Unix time [ms]. */
  readonly timeMs: number;
  /** Mean wind [m/s] at `windHeightM`. */
  readonly windSpeedMs: number | null;
  /** 10th percentile of the mean wind [m/s]. */
  readonly windSpeedLowMs: number | null;
  /** 90th percentile of the mean wind [m/s]. */
  readonly windSpeedHighMs: number | null;
  /** Largest gust of the interval [m/s]. */
  readonly windGustMs: number | null;
  /** Where the wind comes from, from north, clockwise [°, 0 to 360]. */
  readonly windFromDeg: number | null;
  /** Height above ground of the wind [m]. */
  readonly windHeightM: number;
  /** Sky covered by cloud, in all and by layer [0..1]; what a layer is stands in `Forecast.notes`. */
  readonly cloudShare: number | null;
  readonly cloudLowShare: number | null;
  readonly cloudMediumShare: number | null;
  readonly cloudHighShare: number | null;
  /** Area in fog [0..1]. */
  readonly fogShare: number | null;
  /** Air temperature at 2 m [°C]. */
  readonly airTemperatureC: number | null;
  /** Dew point at 2 m [°C]. */
  readonly dewPointC: number | null;
  /** Relative humidity at 2 m [0..1]. */
  readonly relativeHumidity: number | null;
  /** Air pressure, reduced to sea level [hPa]. */
  readonly pressureHpa: number | null;
  /** Precipitation of the interval from `precipitationFromMs` to `precipitationToMs` [mm]. */
  readonly precipitationMm: number | null;
  /** Start of the interval that precipitation and probabilities speak of, Unix time [ms]. */
  readonly precipitationFromMs: number | null;
  /** End of that interval, Unix time [ms]. */
  readonly precipitationToMs: number | null;
  /** Chance of precipitation in the interval [0..1]. */
  readonly precipitationProbability: number | null;
  /** Chance of thunder in the interval [0..1]. */
  readonly thunderProbability: number | null;
}

export interface Forecast {
  /** "MET Norway Locationforecast 2.0". */
  readonly source: string;
  /** When the source issued it, Unix time [ms]; null where it does not say. */
  readonly issuedAtMs: number | null;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Altitude of the forecast's ground [m above sea level]; null where the source does not say. */
  readonly altitudeM: number | null;
  /** The credit that the source's licence asks for. */
  readonly credit: string;
  /** In order of time, each time once. */
  readonly instants: readonly ForecastInstant[];
  /** The source's own definitions, kept beside the numbers: what a cloud layer is, what a gust is. */
  readonly notes: readonly string[];
  /** What was wrong in the document without making it useless. */
  readonly faults: readonly FormatFault[];
}
