/** Places of a blended picture where no frame was sharp. */

/** A rectangle of the reference frame [px], from its top-left pixel. */
export interface BlendGap {
  readonly x: number;
  readonly y: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Mean squared detail per tile of one scale of the blended picture, `columns` x `rows`. */
export interface DetailTiles {
  readonly columns: number;
  readonly rows: number;
  readonly tilePx: number;
  /** Scales of about 1 and 2 px, and of about 4 and 8 px [code²/code² of full range]. */
  readonly fine: Float64Array;
  readonly coarse: Float64Array;
}

/**
 * Finds the gaps: tiles with structure at 4 to 8 px but next to none at 1 to 2 px, against the picture's own sharp
 * tiles; neighbours are joined into rectangles.
 *
 * Flat tiles are never gaps. A subject that is itself smooth (a petal out of texture) may be named wrongly.
 *
 * @returns rectangles, largest first
 */
export function findGaps(
  tiles: DetailTiles,
  size: { readonly width: number; readonly height: number },
): BlendGap[] {
  const { columns, rows, tilePx, fine, coarse } = tiles;
  const ratio = fine.map((value, i) => value / Math.max(coarse[i]!, 1e-12));
  const structured = [...coarse].sort((a, b) => a - b);
  const enough = Math.max(2e-6, 0.1 * (structured[Math.floor(structured.length * 0.9)] ?? 0));
  const sharpRatios = [...ratio].filter((_, i) => coarse[i]! > enough).sort((a, b) => a - b);
  const sharp = sharpRatios[Math.floor(sharpRatios.length * 0.9)];
  if (sharp === undefined) return [];
  const soft = ratio.map((value, i) => (coarse[i]! > enough && value < 0.06 * sharp ? 1 : 0));
  const gaps: BlendGap[] = [];
  const seen = new Uint8Array(soft.length);
  for (let start = 0; start < soft.length; start++) {
    if (soft[start] === 0 || seen[start] === 1) continue;
    let [left, right, top, bottom] = [columns, -1, rows, -1];
    const open = [start];
    seen[start] = 1;
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      const column = next % columns;
      const row = (next - column) / columns;
      left = Math.min(left, column);
      right = Math.max(right, column);
      top = Math.min(top, row);
      bottom = Math.max(bottom, row);
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        const x = column + dx;
        const y = row + dy;
        const at = y * columns + x;
        if (x < 0 || y < 0 || x >= columns || y >= rows || soft[at] === 0 || seen[at] === 1) continue;
        seen[at] = 1;
        open.push(at);
      }
    }
    gaps.push({
      x: left * tilePx,
      y: top * tilePx,
      widthPx: Math.min(size.width, (right + 1) * tilePx) - left * tilePx,
      heightPx: Math.min(size.height, (bottom + 1) * tilePx) - top * tilePx,
    });
  }
  return gaps.sort((a, b) => b.widthPx * b.heightPx - a.widthPx * a.heightPx);
}
