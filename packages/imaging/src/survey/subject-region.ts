/** How far the subject reaches in the frame: the sharp region that the point of focus lies in. */
import { boxMean, finenessOf } from './guess-point.ts';
import type { FrameSurvey } from './survey-frame.ts';

export type FrameSide = 'left' | 'right' | 'top' | 'bottom';

/** A rectangle of the frame, as fractions of its width and height from the top left. */
export interface FrameBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The subject as far as the focus map shows it. */
export interface SubjectRegion {
  readonly box: FrameBox;
  /** Sides of the frame that it touches: it may be cut there. */
  readonly touches: readonly FrameSide[];
  /** Between the subject and each side, as a share of the frame's width or height [0..1]. */
  readonly room: Readonly<Record<FrameSide, number>>;
  /** Share of the frame's tiles in it [0..1]. */
  readonly share: number;
}

/** Tiles from this share of the sharpness at the point belong to the subject. */
const BELONGS_FROM = 0.2;
const FEWEST_TILES = 4;
/** Beyond this share of the frame the map does not part subject and background. */
const MOST_OF_FRAME = 0.6;

/**
 * The sharp region round a point.
 *
 * Tiles about as sharp as those at the point, joined to it, one tile of softness passed over. It is the subject where
 * the background is out of focus, which is how close-ups are mostly made; a meadow that is sharp throughout gives null.
 * Soft ends of the subject (a leaf that leaves the plane of focus) are not seen.
 *
 * @param point fractions of width and height [0..1]
 * @returns null where there is no detail at the point, or the map does not part subject and background
 * @source common practice, no source
 */
export function subjectRegion(
  survey: FrameSurvey,
  point: { readonly x: number; readonly y: number },
): SubjectRegion | null {
  const { columns, rows, tilePx, width, height } = survey;
  const sharp = boxMean(finenessOf(survey), columns, rows, 1);
  const column = Math.min(columns - 1, Math.floor((point.x * width) / tilePx));
  const row = Math.min(rows - 1, Math.floor((point.y * height) / tilePx));
  const near = around(column, row, columns, rows, 2);
  const most = Math.max(...near.map((tile) => sharp[tile]!));
  if (!(most > 1e-6)) return null;
  const inside = new Uint8Array(columns * rows);
  const open = near.filter((tile) => sharp[tile]! >= BELONGS_FROM * most);
  for (const tile of open) inside[tile] = 1;
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    for (const tile of around(next % columns, Math.floor(next / columns), columns, rows, 2)) {
      if (inside[tile] === 1 || !(sharp[tile]! >= BELONGS_FROM * most)) continue;
      inside[tile] = 1;
      open.push(tile);
    }
  }
  const tiles = Array.from(inside.keys()).filter((tile) => inside[tile] === 1);
  const share = tiles.length / (columns * rows);
  if (tiles.length < FEWEST_TILES || share > MOST_OF_FRAME) return null;
  const across = tiles.map((tile) => tile % columns);
  const down = tiles.map((tile) => Math.floor(tile / columns));
  const left = Math.min(...across) * tilePx;
  const right = Math.min(width, (Math.max(...across) + 1) * tilePx);
  const top = Math.min(...down) * tilePx;
  const bottom = Math.min(height, (Math.max(...down) + 1) * tilePx);
  const room = {
    left: left / width,
    right: 1 - right / width,
    top: top / height,
    bottom: 1 - bottom / height,
  };
  const sides: readonly FrameSide[] = ['left', 'right', 'top', 'bottom'];
  return {
    box: { x: room.left, y: room.top, width: (right - left) / width, height: (bottom - top) / height },
    touches: sides.filter((side) => room[side] === 0),
    room,
    share,
  };
}

function around(column: number, row: number, columns: number, rows: number, reach: number): number[] {
  const tiles: number[] = [];
  for (let y = Math.max(0, row - reach); y <= Math.min(rows - 1, row + reach); y++) {
    for (let x = Math.max(0, column - reach); x <= Math.min(columns - 1, column + reach); x++) {
      tiles.push(y * columns + x);
    }
  }
  return tiles;
}
