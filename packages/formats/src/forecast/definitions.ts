/** What a source's numbers mean, as data beside them: no two sources measure wind, cloud or rain the same way. */

/** How a source defines each quantity. `null` where the source gives none of that kind. */
export interface ForecastDefinitions {
  readonly wind: {
    /** Height above ground [m]. */
    readonly heightM: number;
    /** What the speed is: a mean, or the largest of means that prevails over the interval. */
    readonly statistic: 'mean' | 'prevailingMaximum';
    /** Time over which it is averaged [min]; null where the source does not say. */
    readonly averagedMin: number | null;
  };
  readonly gust: {
    /** Time over which a gust is averaged [s]; null where the source does not say. */
    readonly averagedS: number | null;
    /** Over which time it is the largest. */
    readonly largestOf: 'hourThatFollows' | 'intervalThatFollows' | 'intervalAround';
  } | null;
  /** Bounds between low, medium and high cloud, above ground [m]. */
  readonly cloudLayers: { readonly mediumFromM: number; readonly highFromM: number } | null;
  readonly precipitation: {
    /** Where the interval of an amount lies: from the instant on, or round it. */
    readonly interval: 'follows' | 'around';
    /** Least amount that the probability speaks of [mm]; null where the source does not say. */
    readonly probabilityOfAtLeastMm: number | null;
  };
  readonly radiation: {
    /** Sun and sky on the level, averaged over this time from the instant on [min]. */
    readonly averagedMin: number;
  } | null;
  readonly groundTemperature: {
    /** Height above the ground [m]. */
    readonly heightM: number;
  } | null;
  readonly fog: {
    /** A share of the area in fog, or the probability of fog in the hour from the instant on. */
    readonly kind: 'areaShare' | 'probability';
    /** Visibility below which it is fog [m]. */
    readonly visibilityBelowM: number;
  } | null;
  readonly thunder: {
    /** Length of the interval that the probability speaks of [h]; null: that of the precipitation. */
    readonly intervalH: number | null;
  } | null;
  /** Height above ground of temperature, dew point and humidity [m]. */
  readonly airHeightM: number;
}

/** The definitions as sentences for the reader. */
export function definitionSentences(definitions: ForecastDefinitions): readonly string[] {
  const { wind, gust, cloudLayers, precipitation, radiation, groundTemperature, fog, thunder, airHeightM } =
    definitions;
  const windIs = wind.statistic === 'mean' ? 'mean' : 'the strongest that prevails';
  const over = wind.averagedMin === null ? '' : ` over ${wind.averagedMin} minutes`;
  return [
    `Wind: ${windIs}${over}, ${wind.heightM} m above open ground.`,
    gust === null ? 'Gusts are not given.' : gustSentence(gust),
    cloudLayers === null
      ? 'Cloud is given in all only, not by layer.'
      : `Cloud layers by height above ground: low below ${cloudLayers.mediumFromM} m, medium ${cloudLayers.mediumFromM} to ${cloudLayers.highFromM} m, high above ${cloudLayers.highFromM} m.`,
    precipitation.interval === 'follows'
      ? 'Precipitation and its probability: of the interval that follows the time; its start and end are given.'
      : 'Precipitation and its probability: of the interval that the time lies in; add amounts by interval, not by hour.',
    ...(precipitation.probabilityOfAtLeastMm === null
      ? []
      : [`Probability of precipitation: of more than ${precipitation.probabilityOfAtLeastMm} mm.`]),
    radiation === null
      ? 'Radiation is not given; it is worked out from sun and cloud.'
      : `Radiation: sun and sky on the level, mean of the ${radiation.averagedMin} minutes that follow.`,
    ...(groundTemperature === null
      ? []
      : [`Ground temperature: ${groundTemperature.heightM * 100} cm above the ground.`]),
    fogSentence(fog),
    ...(thunder === null
      ? ['Thunder is not given.']
      : thunder.intervalH === null
        ? []
        : [`Probability of thunder: of the ${thunder.intervalH} h that follow.`]),
    `Temperature, dew point and humidity at ${airHeightM} m; pressure at sea level.`,
  ];
}

function gustSentence(gust: NonNullable<ForecastDefinitions['gust']>): string {
  const length = gust.averagedS === null ? 'gust' : `${gust.averagedS} s gust`;
  const of = {
    hourThatFollows: 'the hour that follows',
    intervalThatFollows: 'the interval that follows',
    intervalAround: 'the interval that the time lies in',
  }[gust.largestOf];
  return `Gust: ${length}, the largest of ${of}; not given everywhere.`;
}

function fogSentence(fog: ForecastDefinitions['fog']): string {
  if (fog === null) return 'Fog is not given.';
  return fog.kind === 'areaShare'
    ? `Fog: share of the area with visibility under ${fog.visibilityBelowM} m.`
    : `Fog: probability of visibility under ${fog.visibilityBelowM} m in the hour that follows.`;
}
