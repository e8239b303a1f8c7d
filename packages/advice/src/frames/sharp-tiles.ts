/** Where a frame is sharp, tile by tile, for an outline over the picture. */
import { requireInRange } from '@tepal/science';
import type { FocusMap } from './series/focus-side.ts';

/** An edge spread by sigma has fineness 1 / (2 sigma²); a third of it is left for noise and the tile's own texture. */
const EDGE = 0.5;
const LEFT_OF_EDGE = 0.6;
/** And within this share of the finest: what is sharp is told against the rest of the frame as well. */
const OF_FINEST = 0.4;
/** Tiles plainer than this share of the strongest gradient say nothing. */
const PLAIN = 0.01;

/**
 * Tells which tiles are sharp.
 *
 *   fineness = detail / gradient >= max(0.6 · 0.5 / limit², 0.4 · the finest, taken at the 98th percentile)
 *
 * Tiles without structure, as a plain petal or a distant background, are not called sharp: nothing there could be.
 *
 * @param limitPx the largest sharp sigma at the delivery asked for [px], >= 0.5
 * @returns one flag a tile, row by row
 * @throws DomainError if the limit is out of range
 * @source common practice, no source
 */
export function sharpTiles(map: FocusMap, limitPx: number): readonly boolean[] {
  requireInRange('limitPx', limitPx, { what: 'a blur in px', min: 0.5, max: 1e3 });
  const { detail, gradient } = map;
  const tiles = map.columns * map.rows;
  let strongest = 0;
  for (let tile = 0; tile < tiles; tile++) strongest = Math.max(strongest, gradient[tile] ?? 0);
  const fineness = Array.from({ length: tiles }, (_, tile) => {
    const coarse = gradient[tile] ?? 0;
    return coarse > PLAIN * strongest ? (detail[tile] ?? 0) / coarse : 0;
  });
  const sorted = fineness.filter((value) => value > 0).sort((a, b) => a - b);
  const finest = sorted[Math.floor((sorted.length - 1) * 0.98)] ?? 0;
  const from = Math.max((LEFT_OF_EDGE * EDGE) / limitPx ** 2, OF_FINEST * finest);
  return fineness.map((value) => value >= from);
}
