/** A focus series told from repeats by how the sharp zone moves through it, and whether it is complete. */

import type { MeasuredSeries } from '@tepal/formats';

/** Fine detail of a frame tile by tile, row by row, never negative: the survey of `@tepal/imaging` is one. */
export interface DetailMap {
  readonly columns: number;
  readonly rows: number;
  readonly detail: ArrayLike<number>;
}

/** What the maps of a series say about its focus. */
export type FocusMovement =
  | { readonly kind: 'repeat' }
  | {
      readonly kind: 'focus';
      /** Gaps: the focus stepped far between frames `after` and `after + 1`, counted from 0. */
      readonly gaps: readonly { readonly after: number }[];
      /** Whether the sharp zone starts and ends outside the subject. */
      readonly firstEnd: FocusEnd;
      readonly lastEnd: FocusEnd;
    };

export type FocusEnd = 'reached' | 'notReached' | 'cannotTell';

/** Cells across that the maps are pooled to: coarse enough for a hand's drift, fine enough for a leaf. */
const CELLS_ACROSS = 36;
/** A cell tells of focus when its detail changes this much through the series, apart from what all cells share. */
const TELLING_RATIO = 2.5;
/** A cell lies in a frame's sharp zone from this share of the most detail it ever has. */
const SHARP_ZONE_FROM = 0.25;
const FEWEST_TELLING_CELLS = 6;
/** Agreement of the order taken with the order of the focus, Kendall's tau, from which it is a series. */
const ORDERED_FROM = 0.8;
/** Up to so many frames a pair out of order comes about too often by chance: in 8 % of five shuffled frames. */
const FEW_FRAMES = 5;
/** Telling cells among those that hold detail; in a plant that moved against still grass it is less. */
const TELLING_SHARE = 0.2;
/** A frame takes part in the series when it is the sharpest at this share of the telling cells. */
const takesPartFrom = (frameCount: number) => (frameCount === 3 ? 0.1 : 0.03);

/**
 * Tells a focus series from repeats.
 *
 * Cells tell of focus when their detail changes apart from what all cells of a frame share (shake, exposure). The
 * frames are laid along a line by the overlap of their sharp zones, which orders them by their focus. A focus series
 * has them in the order taken; in repeats the focus wanders at random. Three frames fall in order by chance one time
 * in three, so each must also be the sharpest at a tenth of the cells. On rendered repeats with plant and hands moving,
 * 1 in 118 runs of three to twelve frames was taken for a focus series.
 *
 * The maps should be of one framing; drift of a few hundredths of the frame's width passes. Frames of another grid
 * than the first make the answer `repeat`.
 *
 * @param maps in the order taken
 */
export function focusMovement(maps: readonly DetailMap[]): FocusMovement {
  const repeat = { kind: 'repeat' } as const;
  const first = maps[0];
  if (first === undefined || maps.length < 3) return repeat;
  if (maps.some((map) => map.columns !== first.columns || map.rows !== first.rows)) return repeat;
  const { detailed, telling: allCells } = tellingCells(maps.map(pooled));
  if (allCells.length < Math.max(FEWEST_TELLING_CELLS, TELLING_SHARE * detailed)) return repeat;
  // A frame focused past the subject, or shaken beyond use, has no sharp zone and no place in the order.
  const holding = maps.flatMap((_, frame) => (holdsSharpZone(allCells, frame) ? [frame] : []));
  if (holding.length < 3) return repeat;
  const cells = allCells.map((cell) => holding.map((frame) => cell[frame] ?? 0));
  const alike = similarities(cells, holding.length);
  const peaks = cells.map(peakOf);
  const shares = holding.map((_, at) => peaks.filter((peak) => peak === at).length / peaks.length);
  if (!inOrder(Math.abs(kendallTau(placesOnALine(alike))), shares)) return repeat;
  const spread = shares.filter((share) => share >= takesPartFrom(holding.length)).length;
  if (spread < Math.max(3, Math.ceil(holding.length / 2))) return repeat;
  return {
    kind: 'focus',
    gaps: gapsBetween(alike).map((at) => ({ after: holding[at] ?? at })),
    firstEnd: holding[0] === 0 ? endOf(shares[0] ?? 0, holding.length) : 'reached',
    lastEnd: holding.at(-1) === maps.length - 1 ? endOf(shares.at(-1) ?? 0, holding.length) : 'reached',
  };
}

/** A series' kind in the contract's words; a blend is suggested when the focus moves through it. */
export function seriesKind(
  frameCount: number,
  movement: FocusMovement,
): Pick<MeasuredSeries, 'kind' | 'blendSuggested'> {
  if (movement.kind === 'focus') return { kind: 'focus', blendSuggested: true };
  return { kind: frameCount === 1 ? 'single' : 'repeat', blendSuggested: false };
}

function holdsSharpZone(cells: readonly Cell[], frame: number): boolean {
  return cells.some((cell) => (cell[frame] ?? 0) >= Math.max(...cell) + Math.log(SHARP_ZONE_FROM));
}

/** A cell through the frames: the logarithm of its detail. */
type Cell = readonly number[];

function pooled(map: DetailMap): Float64Array {
  const across = Math.min(CELLS_ACROSS, map.columns);
  const down = Math.max(1, Math.min(map.rows, Math.round((across * map.rows) / map.columns)));
  const sums = new Float64Array(across * down);
  const counts = new Float64Array(across * down);
  for (let y = 0; y < map.rows; y++) {
    for (let x = 0; x < map.columns; x++) {
      const cell = Math.floor((y * down) / map.rows) * across + Math.floor((x * across) / map.columns);
      sums[cell] = (sums[cell] ?? 0) + Math.max(0, map.detail[y * map.columns + x] ?? 0);
      counts[cell] = (counts[cell] ?? 0) + 1;
    }
  }
  return sums.map((sum, cell) => sum / Math.max(1, counts[cell] ?? 1));
}

/** Few frames must all be in order, unless each of them is the sharpest at half its share of the cells at least. */
function inOrder(tau: number, shares: readonly number[]): boolean {
  const allTakePart = shares.every((share) => share >= 0.5 / shares.length);
  return tau >= ORDERED_FROM && (shares.length > FEW_FRAMES || tau > 0.999 || allTakePart);
}

function tellingCells(frames: readonly Float64Array[]): { detailed: number; telling: Cell[] } {
  const strongest = frames.reduce((best, frame) => Math.max(best, ...frame), 0);
  if (strongest <= 0) return { detailed: 0, telling: [] };
  const floor = strongest * 1e-3;
  const logs = frames.map((frame) => Array.from(frame, (value) => Math.log(value + floor)));
  const cellCount = logs[0]?.length ?? 0;
  const peaks = Array.from({ length: cellCount }, (_, cell) =>
    Math.max(...frames.map((frame) => frame[cell] ?? 0)),
  );
  // Cells that never hold detail are background in every frame and say nothing.
  const detailed = peaks.flatMap((peak, cell) => (peak > 10 * floor ? [cell] : []));
  const shared = logs.map((frame) => meanOf(detailed.map((cell) => frame[cell] ?? 0)));
  const telling = detailed
    .map((cell) => logs.map((frame) => frame[cell] ?? 0))
    .filter((cell) => rangeOf(cell.map((value, i) => value - (shared[i] ?? 0))) >= Math.log(TELLING_RATIO));
  return { detailed: detailed.length, telling };
}

const rangeOf = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

/**
 * Places the frames along one line by how alike their patterns are: the Fiedler vector of their similarity, which has
 * the order of the line whenever likeness falls with distance on it.
 *
 * @source Atkins, Boman and Hendrickson 1998, A spectral algorithm for seriation and the consecutive ones problem [from memory]
 */
function placesOnALine(alike: readonly (readonly number[])[]): number[] {
  const degrees = alike.map((row) => row.reduce((sum, value) => sum + value, 0));
  // The Laplacian's eigenvalues lie in 0..2 max degree: shifted by that, its smallest become the largest.
  const shift = 2 * Math.max(...degrees);
  let places = alike.map((_, i) => Math.sin(1 + 7 * i * i));
  for (let round = 0; round < 3_000; round++) {
    const mean = meanOf(places);
    const centred = places.map((value) => value - mean);
    const norm = Math.hypot(...centred);
    if (!(norm > 0)) return places;
    const unit = centred.map((value) => value / norm);
    places = unit.map((value, i) => {
      const drawn = (alike[i] ?? []).reduce((sum, weight, j) => sum + weight * (unit[j] ?? 0), 0);
      return (shift - (degrees[i] ?? 0)) * value + drawn;
    });
  }
  return places;
}

/**
 * Overlap of the sharp zones of each pair of frames, 0 with itself: the cosine between their patterns, each cell as
 * the root of its detail over the most it ever has. Cells that are sharpest in the same frame share one weight, so that
 * a large plane behind the subject does not drown the subject.
 */
function similarities(cells: readonly Cell[], frameCount: number): number[][] {
  const peaks = cells.map(peakOf);
  const counts = Array.from({ length: frameCount }, (_, frame) => peaks.filter((p) => p === frame).length);
  const weights = peaks.map((peak) => 1 / Math.max(FEWEST_TELLING_CELLS, counts[peak] ?? 1));
  const patterns = Array.from({ length: frameCount }, (_, frame) => {
    const pattern = cells.map((cell, k) => {
      const belowMost = (cell[frame] ?? 0) - (cell[peaks[k] ?? 0] ?? 0);
      return Math.sqrt(weights[k] ?? 0) * Math.exp(belowMost / 2);
    });
    const norm = Math.hypot(...pattern);
    return pattern.map((value) => value / norm);
  });
  return patterns.map((a, i) =>
    patterns.map((b, j) => (i === j ? 0 : a.reduce((sum, value, k) => sum + value * (b[k] ?? 0), 0))),
  );
}

/** Kendall's tau of a list against its own order: 1 rising throughout, -1 falling throughout. */
function kendallTau(values: readonly number[]): number {
  let sum = 0;
  let pairs = 0;
  for (let i = 0; i < values.length; i++) {
    for (let j = i + 1; j < values.length; j++) {
      sum += Math.sign((values[j] ?? 0) - (values[i] ?? 0));
      pairs++;
    }
  }
  return pairs === 0 ? 0 : sum / pairs;
}

function peakOf(cell: Cell): number {
  return cell.indexOf(Math.max(...cell));
}

/** Steps across which the sharp zones overlap much less than across the usual step. */
function gapsBetween(alike: readonly (readonly number[])[]): number[] {
  const steps = alike.slice(1).map((row, i) => 1 - (row[i] ?? 0));
  const usual = medianOf(steps);
  return steps.flatMap((step, after) => (usual > 0 && step > 2 * usual ? [after] : []));
}

/** An end frame that holds the sharpest of much more than its share has not passed the end. */
function endOf(share: number, frameCount: number): FocusEnd {
  if (share > 1.5 / frameCount) return 'notReached';
  return share < 0.5 / frameCount ? 'reached' : 'cannotTell';
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
}

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? 0;
}
