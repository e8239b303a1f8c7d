/**
 * A forecast as the rest of the house knows it, whatever its source: SI units and °C, shares 0 to 1, totals with an
 * explicit interval, and the source's own definitions beside the numbers.
 */
import type { FormatFault } from '../result.ts';
import type { ForecastDefinitions } from './definitions.ts';

/**
 * One instant of a forecast. What the source did not give is null; nothing is filled in.
 *
 * What belongs to an interval (gust, radiation, sunshine, probabilities) stands at the instant where the interval
 * begins, whichever end the source writes it at; precipitation says its interval itself.
 */
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
  /** Sky covered by cloud, in all and by layer [0..1]; what a layer is stands in `Forecast.definitions`. */
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
  /** Sun and sky on the level, mean of the time that `Forecast.definitions` says [W/m²]. */
  readonly radiationWm2: number | null;
  /** Sunshine in the hour that follows [0..1]. */
  readonly sunshineShare: number | null;
  /** Temperature just above the ground, at the height that `Forecast.definitions` says [°C]. */
  readonly groundTemperatureC: number | null;
  /** Chance of fog in the hour that follows [0..1]. */
  readonly fogProbability: number | null;
  /** Visibility near the ground [m]. */
  readonly visibilityM: number | null;
  /** The source's own estimate of the error of the mean wind [m/s]. */
  readonly windSpeedErrorMs: number | null;
  /** The source's own estimate of the error of the air temperature [K]. */
  readonly airTemperatureErrorK: number | null;
  /**
   * Precipitation of the interval from `precipitationFromMs` to `precipitationToMs` [mm]. Several instants can lie in
   * one interval and then hold the same amount: add amounts by interval.
   */
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
  readonly definitions: ForecastDefinitions;
  /** The same as sentences. */
  readonly notes: readonly string[];
  /** What was wrong in the document without making it useless. */
  readonly faults: readonly FormatFault[];
}

/** Everything that an instant can say, by name. */
export type ForecastQuantity = Exclude<
  keyof ForecastInstant,
  'timeMs' | 'windHeightM' | 'precipitationFromMs' | 'precipitationToMs'
>;

/** An instant of which nothing is known but its time. */
export function unknownInstant(timeMs: number, windHeightM: number): ForecastInstant {
  return {
    timeMs,
    windHeightM,
    windSpeedMs: null,
    windSpeedLowMs: null,
    windSpeedHighMs: null,
    windGustMs: null,
    windFromDeg: null,
    cloudShare: null,
    cloudLowShare: null,
    cloudMediumShare: null,
    cloudHighShare: null,
    fogShare: null,
    airTemperatureC: null,
    dewPointC: null,
    relativeHumidity: null,
    pressureHpa: null,
    radiationWm2: null,
    sunshineShare: null,
    groundTemperatureC: null,
    fogProbability: null,
    visibilityM: null,
    windSpeedErrorMs: null,
    airTemperatureErrorK: null,
    precipitationMm: null,
    precipitationFromMs: null,
    precipitationToMs: null,
    precipitationProbability: null,
    thunderProbability: null,
  };
}
