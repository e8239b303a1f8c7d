/** What a forecast leaves out: quantities that it never gives, and hours in which one that it does give is lacking. */
import { formatInstant } from '../time.ts';
import type { Forecast, ForecastQuantity } from './forecast.ts';

export interface MissingFromForecast {
  /** Given at no instant. */
  readonly never: readonly ForecastQuantity[];
  /** Given at some instants and not at others. */
  readonly partly: readonly {
    readonly quantity: ForecastQuantity;
    /** Number of instants without it. */
    readonly instants: number;
    /** From this time on it is never given again [Unix ms]; null where it comes back to the end. */
    readonly endsAtMs: number | null;
  }[];
}

/** Each quantity as the reader calls it. */
const words: { readonly [Q in ForecastQuantity]: string } = {
  windSpeedMs: 'wind',
  windSpeedLowMs: 'low wind',
  windSpeedHighMs: 'high wind',
  windGustMs: 'gusts',
  windFromDeg: 'wind direction',
  cloudShare: 'cloud in all',
  cloudLowShare: 'low cloud',
  cloudMediumShare: 'medium cloud',
  cloudHighShare: 'high cloud',
  fogShare: 'share of fog',
  airTemperatureC: 'air temperature',
  dewPointC: 'dew point',
  relativeHumidity: 'humidity',
  pressureHpa: 'pressure',
  radiationWm2: 'radiation',
  sunshineShare: 'sunshine',
  groundTemperatureC: 'ground temperature',
  fogProbability: 'chance of fog',
  visibilityM: 'visibility',
  windSpeedErrorMs: 'error of the wind',
  airTemperatureErrorK: 'error of the temperature',
  precipitationMm: 'rain',
  precipitationProbability: 'chance of rain',
  thunderProbability: 'chance of thunder',
};

const names = Object.keys(words) as readonly ForecastQuantity[];

/** Names every quantity of which the forecast says nothing, or not everywhere. */
export function missingFromForecast({ instants }: Pick<Forecast, 'instants'>): MissingFromForecast {
  const never: ForecastQuantity[] = [];
  const partly: MissingFromForecast['partly'][number][] = [];
  for (const quantity of names) {
    const lacking = instants.filter((instant) => instant[quantity] === null).length;
    if (lacking === instants.length) never.push(quantity);
    else if (lacking > 0) {
      const last = instants.findLastIndex((instant) => instant[quantity] !== null);
      partly.push({ quantity, instants: lacking, endsAtMs: instants[last + 1]?.timeMs ?? null });
    }
  }
  return { never, partly };
}

/** The same as sentences: "It never gives gusts and fog." */
export function missingSentences({ never, partly }: MissingFromForecast): readonly string[] {
  const list = never.map((quantity) => words[quantity]).join(', ');
  return [
    ...(never.length === 0 ? [] : [`It never gives: ${list}.`]),
    ...partly.map(({ quantity, instants, endsAtMs }) =>
      endsAtMs === null
        ? `It lacks ${words[quantity]} at ${instants} times.`
        : `It lacks ${words[quantity]} at ${instants} times, and wholly from ${formatInstant(endsAtMs)} on.`,
    ),
  ];
}
