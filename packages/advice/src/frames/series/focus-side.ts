/** On which side of the point the plane of focus lies, where the focus map shows it. */
import type { DetailMap } from './focus-series.ts';

/** A tile's fine detail says nothing of focus without what could be sharp there: its gradient energy. */
export interface FocusMap extends DetailMap {
  /** Gradient energy tile by tile, >= 0. */
  readonly gradient: ArrayLike<number>;
}

export type FocusSide = 'inFront' | 'behind';

/** Rows of tiles that are joined before the peak is looked for, so that one flower makes no band. */
const BANDS = 12;
const FEWEST_TILES_A_BAND = 4;
/** Less than this the peak is not sharp itself: an edge spread by sigma has 1 / (2 sigma²). */
const SHARP_FROM = 0.3;
/** The peak stands out by this factor over the bands at the point. */
const STANDS_OUT = 2;
/** From half the peak, the band spans at least this share of the width. */
const SPANS = 0.4;
/** Least distance from the point to the peak, share of the height. */
const APART = 0.12;

/**
 * Tells the side when the sharp zone is a band across the frame, as where the plane of focus cuts the ground or a bank
 * of leaves: what is lower in the frame is then nearer.
 *
 * Bands of tiles are compared by how fine their structure is for its contrast. The side is told only where one band
 * stands out, falls off on both sides of it, spans much of the width, and lies clearly above or below the point. A
 * picture taken from below, or turned upside down, breaks the assumption: the words must name it.
 *
 * @param point fractions of width and height from the top left, upright
 * @returns null where the map does not show it
 * @source common practice, no source (the ground rises towards the horizon in the frame)
 */
export function focusSide(
  map: FocusMap,
  point: { readonly x: number; readonly y: number },
): FocusSide | null {
  const bands = bandsOf(map);
  const known = bands.flatMap((band, at) => (band === null ? [] : [{ ...band, at }]));
  const peak = known.reduce<(typeof known)[number] | null>(
    (best, band) => (best === null || band.fineness > best.fineness ? band : best),
    null,
  );
  if (peak === null || !(peak.fineness >= SHARP_FROM) || peak.span < SPANS) return null;
  const here = Math.min(BANDS - 1, Math.floor(point.y * BANDS));
  const own = known.filter(({ at }) => Math.abs(at - here) <= 1);
  if (own.length === 0 || own.some(({ fineness }) => fineness * STANDS_OUT > peak.fineness)) return null;
  if (Math.abs((peak.at + 0.5) / BANDS - point.y) < APART) return null;
  const fallsOff = known.every(
    ({ at, fineness }) => Math.abs(at - peak.at) < 3 || fineness * STANDS_OUT <= peak.fineness,
  );
  if (!fallsOff) return null;
  return peak.at > here ? 'inFront' : 'behind';
}

/** Fineness of each band, and the share of the width over which it is at least half of that; null where it is plain. */
function bandsOf({ columns, rows, detail, gradient }: FocusMap) {
  let strongest = 0;
  for (let tile = 0; tile < columns * rows; tile++) strongest = Math.max(strongest, gradient[tile] ?? 0);
  return Array.from({ length: BANDS }, (_, band) => {
    const top = Math.floor((band * rows) / BANDS);
    const bottom = Math.max(top + 1, Math.floor(((band + 1) * rows) / BANDS));
    const found: number[] = [];
    for (let column = 0; column < columns; column++) {
      let [fine, coarse] = [0, 0];
      for (let row = top; row < Math.min(rows, bottom); row++) {
        fine += detail[row * columns + column] ?? 0;
        coarse += gradient[row * columns + column] ?? 0;
      }
      if (coarse > 0.01 * strongest) found.push(fine / coarse);
    }
    if (found.length < FEWEST_TILES_A_BAND) return null;
    const sorted = found.sort((a, b) => a - b);
    const fineness = sorted[Math.floor(sorted.length * 0.7)] ?? 0;
    return { fineness, span: found.filter((value) => value >= fineness / 2).length / columns };
  });
}
