/** Where things lie on a day ribbon: hours along it, light above, wind below. One scale for all of a page's ribbons. */
import { windOfWord, windWords, type WindWord } from '../../words/wind.ts';

/** Heights on the ribbon [px], from its top. */
export const ribbonTop = {
  hours: 14,
  axis: 24,
  words: 42,
  light: 52,
  lightEnd: 116,
  windTop: 126,
  windEnd: 196,
  height: 204,
} as const;

/** Left of the first hour, and right of the last, where the four words of the wind stand [px]. */
const left = 14;
const right = 74;

/** Heights of some winds [m/s, share of the band]: finer for the light winds, which are the ones that matter. */
const windHeights: readonly (readonly [number, number])[] = [
  [0, 0],
  [windOfWord.still, 0.1],
  [windOfWord.stirring, 0.38],
  [windOfWord.nodding, 0.63],
  [windOfWord.tossing, 0.88],
  [3 * windOfWord.tossing, 1],
];

/** Share of the wind's band at which a speed is drawn; above the strongest drawn the line runs along the top. */
function windHeight(speedMs: number): number {
  const above = windHeights.findIndex(([speed]) => speed > speedMs);
  const [upper, lower] = [windHeights[above], windHeights[above - 1]];
  if (upper === undefined) return 1;
  if (lower === undefined) return 0;
  return lower[1] + ((speedMs - lower[0]) / (upper[0] - lower[0])) * (upper[1] - lower[1]);
}

export interface RibbonScale {
  readonly from: number;
  readonly to: number;
  xOf(timeMs: number): number;
  timeOf(x: number): number;
  /** Where a wind at the plant [m/s] is drawn [px]. */
  yOfWind(speedMs: number): number;
}

/**
 * @param widthPx width of the ribbon
 * @param fromMs moment at its left end
 * @param toMs moment at its right end
 */
export function ribbonScale(widthPx: number, fromMs: number, toMs: number): RibbonScale {
  const from = left;
  const to = Math.max(from + 60, widthPx - right);
  const { windTop, windEnd } = ribbonTop;
  return {
    from,
    to,
    xOf: (timeMs) => from + ((timeMs - fromMs) / (toMs - fromMs)) * (to - from),
    timeOf: (x) => fromMs + ((x - from) / (to - from)) * (toMs - fromMs),
    yOfWind: (speedMs) => windEnd - (windEnd - windTop) * windHeight(Math.max(0, speedMs)),
  };
}

/** The four words of the wind, each at the height that stands for it. */
export const windLines = (scale: RibbonScale): readonly { readonly word: WindWord; readonly y: number }[] =>
  windWords.map((word) => ({ word, y: scale.yOfWind(windOfWord[word]) }));

/**
 * The hours that are written along a ribbon.
 *
 * @returns whole hours of the day, every second one where there is room, else every third, fourth or sixth
 */
export function writtenHours(fromH: number, toH: number, widthPx: number): readonly number[] {
  const every = [2, 3, 4, 6].find((step) => ((toH - fromH) / step) * 54 <= widthPx) ?? 12;
  const first = Math.ceil(fromH / every) * every;
  return Array.from({ length: Math.floor((toH - first) / every) + 1 }, (_, i) => first + i * every);
}
