/** What else may keep a focus series from being one picture: the light stepped, or something moved. */

/** Mean luma of a frame tile by tile [0..255 encoded], all frames of one grid. */
export interface LightMap {
  readonly columns: number;
  readonly rows: number;
  readonly meanLuma: ArrayLike<number>;
}

/** The light stepped between frames `after` and `after + 1`, counted from 0: positive stops, brighter. */
export interface BrightnessStep {
  readonly after: number;
  readonly stops: number;
}

/** Steps from here on show in a blend as bands (our choice, no source) [stops]. */
const STEP_FROM = 0.3;
/** Codes outside these hold no ratio: noise below, burnt above. */
const DARKEST = 24;
const BRIGHTEST = 245;
const FEWEST_TILES = 8;

/**
 * Steps of brightness between neighbours: the median over the tiles of the ratio of their light, by the sRGB curve.
 *
 * The median passes over what moved or came into focus; blur leaves a tile's mean as it is.
 *
 * @param frames in the order taken; frames of another grid than their neighbour are passed over
 * @source IEC 61966-2-1 (curve) [from memory]
 */
export function brightnessSteps(frames: readonly LightMap[]): readonly BrightnessStep[] {
  return frames.slice(1).flatMap((frame, after) => {
    const before = frames[after];
    if (before === undefined || before.columns !== frame.columns || before.rows !== frame.rows) return [];
    const ratios: number[] = [];
    for (let tile = 0; tile < frame.meanLuma.length; tile++) {
      const [a, b] = [before.meanLuma[tile] ?? 0, frame.meanLuma[tile] ?? 0];
      if (Math.min(a, b) >= DARKEST && Math.max(a, b) <= BRIGHTEST)
        ratios.push(Math.log2(light(b) / light(a)));
    }
    if (ratios.length < FEWEST_TILES) return [];
    const stops = ratios.sort((a, b) => a - b)[ratios.length >> 1] ?? 0;
    return Math.abs(stops) >= STEP_FROM ? [{ after, stops }] : [];
  });
}

function light(code: number): number {
  const v = code / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

/** A frame that falls so far below both neighbours' correlation shows something that moved. */
const FALLS_BY = 0.12;

/**
 * Frames in which something moved: their likeness to the anchor, once laid on it, falls below what their neighbours'
 * leads to expect. Focus that moves changes likeness slowly; a petal that swung changes one frame.
 *
 * @param correlations of each frame with the anchor after registration [-1..1], in the order taken; null for the anchor
 * or where it was not looked at
 * @returns indices, counted from 0
 */
export function movedFrames(correlations: readonly (number | null)[]): readonly number[] {
  return correlations.flatMap((own, i) => {
    if (own === null) return [];
    const before = correlations.slice(0, i).findLast((value) => value !== null) ?? null;
    const after = correlations.slice(i + 1).find((value) => value !== null) ?? null;
    if (before === null || after === null) return [];
    return Math.min(before, after) - own > FALLS_BY ? [i] : [];
  });
}
