/** What pulls the eye from the subject: bright spots in the background, and burnt ones on it. */
import type { FrameSurvey } from './survey-frame.ts';
import type { FrameBox } from './subject-region.ts';

/** A group of bright or burnt tiles. */
export interface BrightSpot {
  readonly box: FrameBox;
  /** Mean luma of its tiles, and share of their pixels at the top code. */
  readonly meanLuma: number;
  readonly burntShare: number;
}

/** A tile is bright when it is so many codes above the frame's median tile, and among its brightest. */
const ABOVE_MEDIAN = 70;
/** Spots larger than this share of the frame are a bright background, not a spot. */
const LARGEST_SHARE = 0.06;
const BURNT_FROM = 0.05;

/**
 * Bright spots outside a box, or burnt spots inside it, the strongest first.
 *
 * @param subject the subject's box; @param where which side of it to look on
 * @param most how many at most
 * @source common practice, no source: the eye goes to what is brightest and has edges
 */
export function brightSpots(
  survey: FrameSurvey,
  subject: FrameBox,
  where: 'onSubject' | 'around',
  most = 3,
): readonly BrightSpot[] {
  const { columns, rows, tilePx, width, height, meanLuma, topShare } = survey;
  const sorted = Float32Array.from(meanLuma).sort();
  const median = sorted[sorted.length >> 1] ?? 0;
  const isIn = (tile: number) => {
    const x = (((tile % columns) + 0.5) * tilePx) / width;
    const y = ((Math.floor(tile / columns) + 0.5) * tilePx) / height;
    return (
      x >= subject.x && x <= subject.x + subject.width && y >= subject.y && y <= subject.y + subject.height
    );
  };
  const counts = (tile: number) =>
    where === 'onSubject'
      ? isIn(tile) && topShare[tile]! >= BURNT_FROM
      : !isIn(tile) && (meanLuma[tile]! >= median + ABOVE_MEDIAN || topShare[tile]! >= BURNT_FROM);
  const seen = new Uint8Array(columns * rows);
  const spots: (BrightSpot & { readonly strength: number })[] = [];
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] === 1 || !counts(start)) continue;
    const tiles = joined(start, columns, rows, seen, counts);
    if (where === 'around' && tiles.length > LARGEST_SHARE * seen.length) continue;
    const mean = (values: Float32Array) => tiles.reduce((sum, tile) => sum + values[tile]!, 0) / tiles.length;
    const across = tiles.map((tile) => tile % columns);
    const down = tiles.map((tile) => Math.floor(tile / columns));
    const [left, top] = [Math.min(...across) * tilePx, Math.min(...down) * tilePx];
    const right = Math.min(width, (Math.max(...across) + 1) * tilePx);
    const bottom = Math.min(height, (Math.max(...down) + 1) * tilePx);
    const meanOfSpot = mean(meanLuma);
    spots.push({
      box: {
        x: left / width,
        y: top / height,
        width: (right - left) / width,
        height: (bottom - top) / height,
      },
      meanLuma: meanOfSpot,
      burntShare: mean(topShare),
      strength: tiles.length * (where === 'onSubject' ? mean(topShare) : meanOfSpot - median),
    });
  }
  return spots
    .sort((a, b) => b.strength - a.strength)
    .slice(0, most)
    .map(({ box, meanLuma: luma, burntShare }) => ({ box, meanLuma: luma, burntShare }));
}

function joined(
  start: number,
  columns: number,
  rows: number,
  seen: Uint8Array,
  counts: (tile: number) => boolean,
): number[] {
  const tiles: number[] = [];
  const open = [start];
  seen[start] = 1;
  for (let tile = open.pop(); tile !== undefined; tile = open.pop()) {
    tiles.push(tile);
    const [x, y] = [tile % columns, Math.floor(tile / columns)];
    const beside = [
      x > 0 ? tile - 1 : -1,
      x + 1 < columns ? tile + 1 : -1,
      y > 0 ? tile - columns : -1,
      y + 1 < rows ? tile + columns : -1,
    ];
    for (const next of beside) {
      if (next < 0 || seen[next] === 1 || !counts(next)) continue;
      seen[next] = 1;
      open.push(next);
    }
  }
  return tiles;
}
